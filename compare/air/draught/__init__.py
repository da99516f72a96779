"""Air speed, draught rating and thermal comfort at beds and seats."""
