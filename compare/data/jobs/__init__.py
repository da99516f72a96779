"""Accept rules of commissioning readings."""
