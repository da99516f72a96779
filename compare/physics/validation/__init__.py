"""Published tests of the engine that the `validate` command prints; nothing here is used for a house."""
