"""Generic equipment catalogue and the tables of the public rating procedure."""
