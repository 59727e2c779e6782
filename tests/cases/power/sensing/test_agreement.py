"""Successive comparisons by two instruments: what hinders the comparison, and what does not."""

import pytest
from making.manifests import manifest

from preflint.testing import computed, inspect_text


def two(kind, first, second, columns, rows, settings):
    """Two comparisons, of 2026-05-10 and 2026-05-17, by a bench meter and a clamp of such accuracies."""
    return {kind: [
        f"date: {day}, in_force: {setting}, reference: {{instrument: {name}, {accuracy}}}, "
        f"columns: [{columns}], rows: {row}"
        for day, name, accuracy, setting, row in zip(
            ("2026-05-10", "2026-05-17"), ("bench meter", "clamp"), (first, second), settings, rows, strict=True
        )
    ]}


def volts(first="accuracy_percent: 0.5, resolution_v: 0.001"):
    return two(
        "voltage_comparison", first, "accuracy_percent: 0.5, resolution_v: 0.001", "indicated_v, reference_v",
        ("[[16.001, 16.001]]", "[[16.001, 16.161]]"), ["{divider_ratio: 10}"] * 2,
    )


def amperes():
    # The scale was corrected by 2 % in between; the same true amperes are shown by fewer mV for each.
    return two(
        "current_comparison", "accuracy_percent: 2, resolution_a: 0.1", "accuracy_percent: 2, resolution_a: 0.1",
        "indicated_a, reference_a", ("[[0.0, 0.0], [25.0, 25.5]]", "[[0.0, 0.0], [25.5, 25.5]]"),
        ("{sensor_mv_per_a: 26.928}", "{sensor_mv_per_a: 26.4}"),
    )


def read(records, logbook=()):
    fitted = "power_sensing: {divider_ratio: 10, sensor_mv_per_a: 26.4}\n"
    return manifest(fitted, records=records, logbook=logbook)


def told(text, case):
    return computed(inspect_text(text), "normalised_error", case)


def test_both_units_by_hand():
    text = read(volts() | amperes())
    # Ratios asked for 10.000 and 10.100, U = 2 · 0.5 % / √3 each (the last digits add 3 parts in 1e5): 1.218.
    assert told(text, "volts").value == pytest.approx(1.218, rel=1e-3)
    # 26.928 / 1.02 = 26.4: both ask for the same scale.
    assert told(text, "amperes").value == pytest.approx(0, abs=0.01)


def test_what_one_unit_lacks_does_not_silence_the_other():
    text = read(volts(first="resolution_v: 0.001") | amperes())
    with pytest.raises(LookupError):
        told(text, "volts")
    assert told(text, "amperes").value == pytest.approx(0, abs=0.01)


def test_a_comparison_that_tells_no_scale_silences_its_own_unit_only():
    still = two(
        "current_comparison", "accuracy_percent: 2, resolution_a: 0.1", "accuracy_percent: 2, resolution_a: 0.1",
        "indicated_a, reference_a", ("[[0.0, 0.0], [0.0, 0.0]]", "[[0.0, 0.0], [25.5, 25.5]]"),
        ["{sensor_mv_per_a: 26.4}"] * 2,
    )  # fmt: skip
    text = read(volts() | still)
    with pytest.raises(LookupError):
        told(text, "amperes")
    assert told(text, "volts").value == pytest.approx(1.218, rel=1e-3)


@pytest.mark.parametrize(("entry", "hinders"), [
    ("date: 2026-05-12, kind: replaced, part: power-sensor", True),
    ("date: 2026-05-17, kind: rewired, part: flight-controller", True),
    ("date: 2026-05-12, kind: crashed", True),
    ("date: 2026-05-12, kind: settings-changed, part: power-sensor", False),
    ("date: 2026-05-12, kind: replaced, part: motor, at: rear-left", False),
    ("date: 2026-05-12, kind: flown", False),
    ("date: 2026-05-09, kind: replaced, part: power-sensor", False),
    ("date: 2026-05-18, kind: replaced, part: power-sensor", False),
])
def test_only_work_on_what_is_compared_hinders(entry, hinders):
    text = read(volts(), entry)
    if hinders:
        with pytest.raises(LookupError):
            told(text, "volts")
    else:
        assert told(text, "volts").value == pytest.approx(1.218, rel=1e-3)
