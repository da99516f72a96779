"""House types of our own invention, to begin a survey with."""
