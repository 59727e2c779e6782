"""Comparisons of display and meter, one or two of a kind, as text."""

from collections.abc import Iterable, Sequence

from making.manifests import SITE, manifest, opening

PACK = "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
FITTED = "power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 26.4, zero_mv: 512, input_full_scale_mv: 3300}\n"
METER = "instrument: meter, accuracy_percent: 0.5, resolution_v: 0.01"
CLAMP = "instrument: clamp meter, accuracy_percent: 1.5, resolution_a: 0.1, zero_a: 0.0"
# An aircraft that relies on all it has, up to where its records begin.
WITH_ALL = f"""\
{opening(more="relies_on: [compass, barometer]")}{SITE}packs: [{{label: A1, chemistry: lipo, cells: 4}}]
power_sensing: {{divider_ratio: 10, sensor_mv_per_a: 26.4, zero_mv: 512}}
compass: {{interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}}
barometer: {{accuracy_hpa: 1}}
records:
"""


def volts(
    rows: object = "[[15.45, 15.46]]",
    reference: str = "accuracy_percent: 0.5, resolution_v: 0.01",
    ratio: object = 6.2,
    taken: str = "loaded: false",
    date: str = "2026-05-16",
) -> str:
    """The entry of one comparison of volts; ``taken`` says how."""
    return (
        f"date: {date}\nin_force: {{divider_ratio: {ratio}}}\n{taken}\nreference: {{{reference}}}\n"
        f"columns: [indicated_v, reference_v]\nrows: {rows}\n"
    )


def amperes(
    rows: object = "[[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]",
    reference: str = "accuracy_percent: 1.5, resolution_a: 0.1, zero_a: 0.0",
    scale: str = "sensor_mv_per_a: 26.4, zero_mv: 512",
    taken: str = "route: restrained",
    columns: str = "throttle_percent, indicated_a, reference_a",
    date: str = "2026-05-16",
) -> str:
    """The entry of one comparison of amperes; ``taken`` says how."""
    return (
        f"date: {date}\n{taken}\nin_force: {{{scale}}}\nreference: {{{reference}}}\n"
        f"columns: [{columns}]\nrows: {rows}\n"
    )


def read(
    of_volts: str | Iterable[str] = (),
    of_amperes: str | Iterable[str] = (),
    before: str = PACK + FITTED,
    logbook: str | Iterable[str] = (),
) -> str:
    """An aircraft with such comparisons."""
    records = {"voltage_comparison": of_volts, "current_comparison": of_amperes}
    return manifest(before, records=records, logbook=logbook)


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
