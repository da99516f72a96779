"""What each role may see: allow-list models, built field by field. What is not named here does not leave."""
