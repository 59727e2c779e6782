"""What a name means: a key of the manifest, a kind of record, a rule, a limit, a word of reports."""
