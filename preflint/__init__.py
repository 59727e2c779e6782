"""preflint: says what does not add up on a multirotor before its props turn."""

from preflint.version import __version__

__all__ = ["__version__"]
