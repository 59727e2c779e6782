"""preflint: says what does not add up on a multirotor before its props turn."""

__version__ = "0.1.0"
