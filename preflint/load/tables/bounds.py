"""Columns whose readings cannot lie anywhere: what lies outside was logged in another unit."""

from preflint.load.quoting import in_quotes

BOUNDS = {"throttle_percent": (0.0, 100.0)}


def bounds_fault(name: str, value: float) -> str | None:
    """What is wrong with a reading of the column ``name``; None where it lies within its bounds or has none."""
    if name not in BOUNDS:
        return None
    least, most = BOUNDS[name]
    if least <= value <= most:
        return None
    return (
        f"column {in_quotes(name)}: {value:.15g} does not lie between {least:g} and {most:g}; "
        "if the column holds another unit, such as a pulse width, convert it or leave the column out"
    )
