"""Options: a layout with its outdoor units, lines, quantities and price, and what stands against it."""
