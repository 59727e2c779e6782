"""A club policy: read, checked, applied, and its rules without code."""
