"""What the tool says: outcomes of rules, severity, verdict and the order of work."""
