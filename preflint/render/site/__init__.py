"""The catalogue as a site of plain pages, for a browser: from a folder on the disk, or where a club publishes it."""
