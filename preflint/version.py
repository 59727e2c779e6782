"""The version, in a module that imports nothing, for every stage to name."""

__version__ = "0.1.0"
