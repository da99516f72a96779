"""Unit catalogue, performance at conditions, selection, outdoor units, part load and cycling."""
