"""The plots of the field sheet: which there are, and that what they show lies where the readings are."""

import re
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from making.manifests import manifest

import preflint
from preflint.findings.inspected import Inspected
from preflint.render.sheet.plots import Plot, plots
from preflint.testing import computed, inspect_text

CLUB = Path(__file__).parents[4] / "examples" / "club"
KEYS = ("voltage", "current", "interference", "deviation", "coverage", "shares", "margins", "charge", "time")


@cache
def judged(name: str) -> Inspected:
    return preflint.inspect(CLUB / f"{name}.airframe.yaml", judged_on="field-day")


@cache
def drawn(name: str) -> dict[str, Plot]:
    return by_key(plots(judged(name)))


def by_key(made: tuple[Plot, ...]) -> dict[str, Plot]:
    """By the first id in each, which names the plot."""
    return {re.search(r'id="plot-(\w+)-', plot.svg)[1]: plot for plot in made}


def group(svg: str, name: str) -> ElementTree.Element:
    root = ElementTree.fromstring(svg)
    return next(element for element in root.iter() if element.get("id", "").endswith(f"-{name}"))


def dots(svg: str, name: str) -> np.ndarray:
    """Where the markers of a group lie, (n, 2) in units of the SVG."""
    used = [element for element in group(svg, name).iter() if element.tag.endswith("}use")]
    return np.array([[float(element.get("x")), float(element.get("y"))] for element in used])


def scale(svg: str, axis: str, n: int = 1) -> np.poly1d:
    """From units of the SVG to numbers of the nth axis of that letter, by the first and last tick that has a label."""
    found = []
    of_axis = group(svg, f"matplotlib.axis_{n}")
    for tick in of_axis.iter():
        if re.search(rf"-{axis}tick_\d+$", tick.get("id", "")):
            used = [element for element in tick.iter() if element.tag.endswith("}use")]
            text = ["".join(element.itertext()).strip() for element in tick.iter() if element.tag.endswith("}text")]
            found.append((float(used[-1].get(axis)), float(text[0].replace("−", "-"))))
    (at, number), (other, last) = found[0], found[-1]
    return np.poly1d(np.polyfit([at, other], [number, last], 1))


def read(svg: str, name: str) -> np.ndarray:
    """The markers of a group in numbers of the axes, (n, 2)."""
    x, y = dots(svg, name).T
    return np.column_stack([scale(svg, "x")(x), scale(svg, "y", 2)(y)])


def test_each_plot_is_there_for_an_aircraft_with_its_records() -> None:
    assert tuple(drawn("curlew")) == KEYS


def test_nothing_is_drawn_of_an_aircraft_without_records() -> None:
    assert plots(judged("knot")) == ()


def test_what_is_not_on_record_is_not_drawn() -> None:
    # Redshank has no centre of mass, no plan, no rotation; its interference run is outdated.
    assert {"interference", "coverage", "shares", "charge"}.isdisjoint(drawn("redshank"))


def test_the_same_bytes_twice() -> None:
    assert plots(judged("curlew")) == tuple(drawn("curlew").values())


def test_settings_of_the_machine_change_nothing() -> None:
    from matplotlib import rc_context

    with rc_context({"font.size": 20, "lines.linewidth": 7, "svg.fonttype": "path"}):
        assert plots(judged("redshank")) == tuple(drawn("redshank").values())


@pytest.mark.parametrize("key", KEYS)
def test_it_can_stand_in_a_page(key: str) -> None:
    svg = drawn("curlew")[key].svg
    assert svg.startswith("<svg ")
    assert svg.count("http") == 1
    assert 'xmlns="http://www.w3.org/2000/svg"' in svg
    for refused in ("<script", "<!", "<?", "<style", "<metadata", "javascript:", "<image"):
        assert refused not in svg
    assert set(re.findall(r'href="(.)', svg)) <= {"#"}
    named = set(re.findall(r' id="([^"]*)"', svg))
    assert set(re.findall(r'(?:href="#|url\(#)([^")]*)', svg)) <= named


def test_ids_of_two_plots_never_clash() -> None:
    every = [name for plot in drawn("curlew").values() for name in set(re.findall(r' id="([^"]*)"', plot.svg))]
    assert len(every) == len(set(every))


@pytest.mark.parametrize("key", KEYS)
def test_text_is_text_and_large_enough_for_half_a_page(key: str) -> None:
    svg = drawn("curlew")[key].svg
    sizes = [float(size) for size in re.findall(r"font(?:-size)?: ([\d.]+)px", svg)]
    assert sizes
    assert min(sizes) >= 6.5  # pt, as the SVG is as wide as half a page in pt
    assert re.match(r"<svg [^>]*width=\"2[0-9.]+pt\"", svg)


def test_readings_of_volts_lie_where_they_were_read() -> None:
    shown = read(drawn("curlew")["voltage"].svg, "readings")
    assert shown == pytest.approx(np.array([[16.68, -0.01], [15.78, -0.02], [14.88, -0.01]]), abs=2e-3)


def test_readings_of_amperes_lie_where_they_were_read() -> None:
    shown = read(drawn("curlew")["current"].svg, "readings")
    expected = [[0.0, 0.0], [5.6, 0.0], [12.7, -0.1], [21.1, -0.1], [28.1, -0.1]]
    assert shown == pytest.approx(np.array(expected), abs=0.01)


def test_the_zero_of_the_meter_is_taken_off() -> None:
    text = (CLUB / "curlew.airframe.yaml").read_text()
    text = text.replace("clamp meter, accuracy", "clamp meter, zero_a: 0.1, accuracy")
    files = {str(path.relative_to(CLUB)): path.read_text() for path in CLUB.glob("*/*") if path.suffix != ".yml"}
    svg = by_key(plots(inspect_text(text, files=files)))["current"].svg
    assert read(svg, "readings")[1] == pytest.approx([5.5, 0.1], abs=0.01)


def test_the_heading_check_lies_where_it_was_read() -> None:
    shown = read(drawn("curlew")["deviation"].svg, "readings")
    off = [0.6, 1.1, 1.5, 1.0, -0.4, -0.9, -1.2, -1.1]
    assert shown == pytest.approx(np.column_stack([range(0, 360, 45), off]), abs=0.05)


def test_the_curve_of_interference_is_as_high_as_the_figure_says() -> None:
    svg = drawn("curlew")["deviation"].svg
    path = next(element for element in group(svg, "interference-full").iter() if element.tag.endswith("}path"))
    heights = [float(y) for _, y in re.findall(r"[ML] ([-\d.]+) ([-\d.]+)", path.get("d"))]
    errors = scale(svg, "y", 2)(np.array(heights))
    expected = computed(judged("curlew"), "heading_error_deg", "raw-full-level").value
    assert np.max(np.abs(errors)) == pytest.approx(expected, abs=0.02)


def test_the_field_lies_where_it_was_logged() -> None:
    log = np.genfromtxt(CLUB / "logs" / "curlew-2026-05-16.csv", delimiter=",", names=True)
    rows = -(-len(log) // 48)
    current = [log["current_a"][i : i + rows].mean() for i in range(0, len(log), rows)]
    field = [log["field_z_ut"][i : i + rows].mean() for i in range(0, len(log), rows)]
    svg = drawn("curlew")["interference"].svg
    shown = np.column_stack([
        scale(svg, "x", 5)(dots(svg, "before-z")[:, 0]), scale(svg, "y", 6)(dots(svg, "before-z")[:, 1])
    ])  # fmt: skip
    assert shown[:, 0] == pytest.approx(current, abs=0.1)
    assert np.ptp(shown[:, 1] - field) < 0.01  # off by one constant: what it is at no current
    after = scale(svg, "y", 6)(dots(svg, "after-z")[:, 1])
    assert after == pytest.approx(shown[:, 1] - 0.0348 * np.array(current), abs=0.01)


def test_a_rotation_lies_on_the_sphere_about_its_middle() -> None:
    log = np.genfromtxt(CLUB / "logs" / "curlew-rotation-2026-05-16.csv", delimiter=",", names=True)
    # Curlew needs a hard-iron correction of about (4.1, -12.0, 7.7): its readings lie about the opposite of that.
    x, y = log["field_x_ut"] + 4.1, log["field_y_ut"] - 12.0
    shown = scale(drawn("curlew")["coverage"].svg, "x")(dots(drawn("curlew")["coverage"].svg, "readings")[:, 0])
    across = (shown - np.degrees(np.arctan2(y, x)) + 180) % 360 - 180
    assert np.max(np.abs(across)[np.hypot(x, y) > 20]) < 1


def test_charge_adds_up() -> None:
    said = drawn("curlew")["charge"].said
    # 22.5 A for 8 min are 3000 mAh, for 80 s 500 mAh; the label says 8000 mAh, of which 80 to 100 % count.
    assert "22.5 A" in said
    assert "3000 mAh" in said
    assert "500 mAh" in said
    assert "CU1 7200" in said
    gives = scale(drawn("curlew")["charge"].svg, "x")(dots(drawn("curlew")["charge"].svg, "gives")[:, 0])
    assert gives == pytest.approx([7200], rel=2e-3)


def test_the_time_line_shows_what_ended_what() -> None:
    plot = drawn("redshank")["time"]
    assert "battery-tray moved on 2026-05-19 ended the interference run" in plot.said
    work, ended = dots(plot.svg, "work"), re.findall(r'id="plot-time-(until-\d+)"', plot.svg)
    assert len(ended) == 1
    assert dots(plot.svg, ended[0])[:, 0] == pytest.approx(work[:, 0])


def test_every_plot_says_its_numbers() -> None:
    for plot in (*drawn("curlew").values(), *drawn("redshank").values()):
        assert re.search(r"\d", plot.said)
        assert plot.said.endswith(".")
        assert "nan" not in plot.said


def test_hostile_text_stays_text() -> None:
    label = r"</text><script>alert(1)</script>"
    text = (CLUB / "curlew.airframe.yaml").read_text().replace("label: CU1", f"label: '{label}'")
    text = text.replace("pack: CU1", f"pack: '{label}'")
    files = {str(path.relative_to(CLUB)): path.read_text() for path in CLUB.glob("*/*")}
    svg = by_key(plots(inspect_text(text, files=files)))["charge"].svg
    assert "<script" not in svg
    assert label in "".join(ElementTree.fromstring(svg).itertext())


def test_a_formula_in_a_label_is_no_formula() -> None:
    text = (CLUB / "curlew.airframe.yaml").read_text().replace("CU1", r"'$\frac{1$'")
    files = {str(path.relative_to(CLUB)): path.read_text() for path in CLUB.glob("*/*")}
    svg = by_key(plots(inspect_text(text, files=files)))["charge"].svg
    assert r"$\frac{1$" in "".join(ElementTree.fromstring(svg).itertext())


def test_records_of_centuries_apart_have_a_time_line() -> None:
    checks = "date: 1801-01-01, rig: flight", "date: 2026-05-20, rig: flight"
    made = plots(inspect_text(manifest(records={"rig_check": checks})))
    assert [plot.title for plot in made] == ["Records and work in time"]
