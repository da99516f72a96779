"""Survey entry: a house drawn and typed with a tablet in hand, kept as its house file, comments and all."""
