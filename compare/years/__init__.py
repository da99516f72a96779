"""The year of every option: what its units can give, the run, and the evidence that scoring needs."""
