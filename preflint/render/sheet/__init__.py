"""The field sheet: one aircraft on paper, drawn and in words."""
