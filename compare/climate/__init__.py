"""Weather years, design conditions and the sun on a tilted face."""
