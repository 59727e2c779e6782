"""``preflint draft --ask``: from nothing to a manifest with what flight needs, question by question."""
