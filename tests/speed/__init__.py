"""Speed of the parts that a customer waits for. Run one with `python -m tests.speed.families`; nothing is asserted."""
