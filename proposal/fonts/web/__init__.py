"""Subset woff2 files for pages."""
