"""Ducts of one served zone: route, size, static, loss, return path and sound."""
