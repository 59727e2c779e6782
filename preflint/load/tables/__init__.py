"""Tables of readings, from a manifest or a CSV file beside it, to columns."""
