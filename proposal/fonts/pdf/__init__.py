"""TTF files for the PDF engine."""
