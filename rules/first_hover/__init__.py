"""What the first hover is expected to show: figures for its card, made of the bench alone."""

from . import expected

MODULES = (expected,)
