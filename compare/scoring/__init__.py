"""Measures, curves, scores, weights, ranking and reasons as data."""
