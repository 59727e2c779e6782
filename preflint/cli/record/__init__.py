"""``preflint record``: a record, or an entry of the logbook, added to a manifest."""
