"""Pure functions: moist air, fabric, leakage, gains, doors, the thermal network and its year."""
