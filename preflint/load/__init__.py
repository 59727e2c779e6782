"""Bytes to plain data with places: YAML events, tables, files confined to a tree, limits."""
