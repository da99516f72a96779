"""The house file: model, reading (every problem at once), plan geometry, defaults that list themselves."""
