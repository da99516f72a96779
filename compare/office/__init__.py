"""Cost book and margin; compiles the price list. Imported by the office side only."""
