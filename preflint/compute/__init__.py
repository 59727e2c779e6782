"""Pure functions on numbers and arrays: no aircraft, no findings, no files.

Units are in the names, signs and viewpoints in the docstrings. Each module is imported by its own name,
for example ``from preflint.compute.handedness import nut_must_tighten``; nothing is loaded from here.
"""
