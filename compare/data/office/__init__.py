"""Cost book and assemblies of a generic, invented company: read by `compare.office` only."""
