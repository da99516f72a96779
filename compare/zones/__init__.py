"""Served zones, designed once, and every layout that follows from them."""
