"""Trials at the table: a unit on a wall that somebody points at, a bed or a seat somewhere else."""
