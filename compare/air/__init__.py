"""Ducts, noise, throw and draught, siting of units and lines."""
