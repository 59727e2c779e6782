"""The card for the first hover: whole, on one screen, and nothing on it that the verdict contradicts."""

import datetime as dt

import pytest
from making.manifests import CLUB

from preflint.fleet.inspect import inspect_many
from preflint.render.text import render_text

DAY = dt.date(2026, 5, 21)
EVERY = sorted(path.name.partition(".")[0] for path in CLUB.glob("*.airframe.yaml"))


def card(name, width=80, ascii_only=False):
    report = inspect_many([CLUB / f"{name}.airframe.yaml"], judged_on=DAY)
    return report, render_text(report, width, ascii_only, detail="first-hover")


def test_the_card_in_full():
    _, text = card("wheatear")
    body, _, command = text.partition("\nJudged on ")[0].partition("    > ")
    assert body == (
        "GO  Wheatear, quad-plus (wheatear.airframe.yaml)\n"
        "\n"
        "FIRST HOVER, low and short: for a maiden flight and the first after work.\n"
        "Throttle  53 to 70 % of full\n"
        "Current   10 to 12 A\n"
        "Volts     16.4 to 16.7 V with pack WH1 full\n"
        "\n"
        "1. Open ground, little wind, everyone behind the pilot. A full pack.\n"
        "2. Pack unplugged: look at every prop: its own hand, domed side up, nut tight.\n"
        "3. Stand clear, plug in, arm, cut-off at hand. Motors slow: no scrape, no smoke.\n"
        "4. Raise the throttle until it is light. It must not lean, turn or creep.\n"
        "5. Lift to about 1 m at once. Hold it half a minute; try each stick a little.\n"
        "6. Land after two minutes at the most.\n"
        "Land at once if  it leans, turns or shakes, a sound is new, a stick answers late\n"
        "    or wrongly, throttle above 70 %, more than 12 A, less than 14.4 V.\n"
        "\n"
        "After  Pack unplugged before you touch a motor; fingers near it first, not on\n"
        "    it. All motors alike, none hot; no nut moved; the pack no more than warm.\n"
        "    Note it:\n"
    )
    assert " ".join(command.split()).startswith("preflint record after_flight_look ")


@pytest.mark.parametrize("name", EVERY)
def test_a_card_says_first_what_the_verdict_says(name):
    report, text = card(name)
    (one,) = report.aircraft
    above = text.partition("FIRST HOVER")[0]
    assert ("GROUNDED: do not hover." in above) == (one.verdict in ("no-go", "unproven"))
    assert ("Know the " in above) == (one.verdict == "go-with-cautions")
    assert "GROUNDED" not in text.partition("FIRST HOVER")[2]
    assert " safe" not in text


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("width", [80, 40])
def test_it_fits(name, width):
    _, text = card(name, width, ascii_only=True)
    lines = text.splitlines()
    assert max(map(len, lines)) <= width
    assert text.isascii()
    if width == 80:
        assert len(lines) <= 27


def test_cautions_are_to_be_known_first():
    text = (CLUB / "wheatear.airframe.yaml").read_text(encoding="utf-8")
    ended = text.replace("insurance_until: 2027-01-31", "insurance_until: 2026-05-01")
    path = CLUB / "wheatear.airframe.yaml"
    report = inspect_many([path], judged_on=DAY, unsaved={path: ended.encode()})
    assert "Know the 1 caution first: --detail full.\n" in render_text(report, detail="first-hover")
