"""Take-off items and the compiled price list: all the money data that customer-side code reads."""
