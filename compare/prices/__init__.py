"""Quantities by take-off, priced by a compiled price list: all that customer-side code sees of money."""
