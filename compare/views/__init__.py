"""What each role may see: allow-list models, built field by field. Nothing that is not named here leaves the program."""
