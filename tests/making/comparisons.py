"""Comparisons of display and meter, one or two of a kind, as text."""

from collections.abc import Sequence

from making.manifests import SITE, opening

FITTED = (
    "power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 26.4, zero_mv: 512, input_full_scale_mv: 3300}\nrecords:\n"
)
# An aircraft that relies on all it has, up to where its records begin.
WITH_ALL = f"""\
{opening(more="relies_on: [compass, barometer]")}{SITE}packs: [{{label: A1, chemistry: lipo, cells: 4}}]
power_sensing: {{divider_ratio: 10, sensor_mv_per_a: 26.4, zero_mv: 512}}
compass: {{interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}}
barometer: {{accuracy_hpa: 1}}
records:
"""


def volts(rows: str = "[[15.45, 15.46]]", reference: str = "accuracy_percent: 0.5, resolution_v: 0.01") -> str:
    """One comparison of volts."""
    return (
        "  voltage_comparison:\n    - date: 2026-05-16\n      in_force: {divider_ratio: 6.2}\n      loaded: false\n"
        f"      reference: {{{reference}}}\n"
        f"      columns: [indicated_v, reference_v]\n      rows: {rows}\n"
    )


def amperes(
    rows: str = "[[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]",
    reference: str = "accuracy_percent: 1.5, resolution_a: 0.1",
) -> str:
    """One comparison of amperes."""
    return (
        "  current_comparison:\n    - date: 2026-05-16\n      route: restrained\n"
        "      in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}\n"
        f"      reference: {{{reference}}}\n"
        f"      columns: [throttle_percent, indicated_a, reference_a]\n      rows: {rows}\n"
    )


def two_of_volts(
    errors: Sequence[float],
    days: Sequence[str],
    names: Sequence[str],
    ratios: Sequence[float] = (10, 10),
    accuracy: float = 0.3,
) -> str:
    """Two comparisons in which the display reads so many per cent high, by the setting of 10."""
    records = "".join(
        f"    - date: {day}\n      in_force: {{divider_ratio: {ratio}}}\n      loaded: false\n"
        f"      reference: {{instrument: {name}, accuracy_percent: {accuracy}, resolution_v: 0.001}}\n"
        "      columns: [indicated_v, reference_v]\n"
        f"      rows: {[[round(ratio / 10 * v * (1 + error / 100), 3), v] for v in (12.003, 14.407, 16.801)]}\n"
        for day, name, ratio, error in zip(days, names, ratios, errors, strict=True)
    )
    return f"{WITH_ALL}  voltage_comparison:\n{records}"
