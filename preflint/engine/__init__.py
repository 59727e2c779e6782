"""What a rule, a figure, a tolerance and a pack are; the runner; the freshness graph."""
