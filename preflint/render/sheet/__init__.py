"""The field sheet: HTML to print and to read on a phone, of each aircraft, of the club and for each owner."""
