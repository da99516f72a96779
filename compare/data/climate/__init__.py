"""Embedded weather years and the tables of places; origin and licences in NOTICE.md beside this file."""
