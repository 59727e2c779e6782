"""YAML text to nodes with their places: from parser events, with budgets."""
