"""The language server: an open manifest is judged as it is typed, its words explained and completed."""
