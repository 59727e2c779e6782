"""Writing a manifest: what is asked for a record, its lines, their place in the text, and the file."""
