"""The cards to take along: what is compared at the gate before a flight, and the first hover."""

from collections.abc import Iterator

from preflint.aircraft.field import Field, Known
from preflint.aircraft.model import name
from preflint.aircraft.rotor import Rotor
from preflint.findings.inspected import Inspected
from preflint.frozen import dataclass
from preflint.precautions import PACK_CHECK, PACK_UNPLUGGED
from preflint.render.first_hover import AFTERWARDS, STEPS, expected, land_signs, record_afterwards

BLANK = "not recorded"


@dataclass(frozen=True, slots=True)
class RotorRow:
    """What is looked at in one place: how it turns and is held, as the manifest has it."""

    at: str
    spin: str
    hand: str
    size: str
    nut: str


@dataclass(frozen=True, slots=True)
class GateCard:
    """What was judged, to compare with what stands at the gate. ``packs`` are those named as flown, else all."""

    grounded: bool
    mind: tuple[str, ...]
    mass: str
    packs: tuple[str, ...]
    rotors: tuple[RotorRow, ...]
    plug_in: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoverCard:
    """What to expect, in which order, when to land, what to look at after it."""

    grounded: bool
    expected: tuple[tuple[str, str], ...]
    steps: tuple[str, ...]
    land: tuple[str, ...]
    after: str
    command: str


def gate_card(one: Inspected) -> GateCard:
    """The card of one aircraft; one that is grounded says so on it."""
    mass = one.about.takeoff_mass_g
    return GateCard(
        grounded=is_kept_down(one),
        mind=PACK_UNPLUGGED.sentences,
        mass=f"{mass.value:g} g" if isinstance(mass, Known) else BLANK,
        packs=tuple(_packs(one)),
        rotors=tuple(_row(rotor) for rotor in one.aircraft.rotors),
        plug_in=PACK_CHECK.sentences[-1:],
    )


def hover_card(one: Inspected) -> HoverCard:
    """The card that the text report has, too."""
    return HoverCard(
        grounded=is_kept_down(one),
        expected=tuple(expected(one.computed, str)),
        steps=STEPS,
        land=tuple(land_signs(one.computed, str)),
        after=AFTERWARDS,
        command=record_afterwards(one),
    )


def is_kept_down(one: Inspected) -> bool:
    """Whether its verdict keeps it on the ground."""
    return one.verdict in ("no-go", "unproven")


def _packs(one: Inspected) -> Iterator[str]:
    labels = [pack.label.value for pack in one.aircraft.packs if isinstance(pack.label, Known)]
    yield from one.flown_with or labels


def _row(rotor: Rotor) -> RotorRow:
    diameter, pitch = rotor.prop.diameter_in, rotor.prop.pitch_in
    size = BLANK
    if isinstance(diameter, Known):
        by = f" × {pitch.value:g}" if isinstance(pitch, Known) else ""
        size = f"{diameter.value:g}{by} in"
    return RotorRow(
        at=name(rotor),
        spin=_told(rotor.spin),
        hand=_told(rotor.prop.hand),
        size=size,
        nut=_told(rotor.fixing.nut_tightens),
    )


def _told(field: Field[str]) -> str:
    return field.value if isinstance(field, Known) else BLANK
