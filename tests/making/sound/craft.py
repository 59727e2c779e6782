"""One aircraft as it truly is: its rotors, what it weighs, lifts and draws, its pack, and the place it flies at."""

import math
from dataclasses import dataclass

import numpy as np

GRAVITY, GAS = 9.80665, 287.053  # m/s², J/(kg K) of dry air: ISO 2533
# Power of coaxial rotors over that of as many apart: 1.22 to 1.28 in Leishman, Principles of Helicopter Aerodynamics,
# chapter 2.
COAXIAL = 1.25

# Degrees clockwise from the nose, and whether that arm's motor turns clockwise (in a coaxial pair: the upper one).
RINGS: dict[str, dict[str, float]] = {
    "quad-x": {"front-left": -45, "front-right": 45, "rear-right": 135, "rear-left": 225},
    "quad-plus": {"front": 0, "right": 90, "rear": 180, "left": 270},
    "hexa-x": {"front-left": -30, "front-right": 30, "right": 90, "rear-right": 150, "rear-left": 210, "left": 270},
    "hexa-plus": {
        "front": 0, "front-right": 60, "rear-right": 120, "rear": 180, "rear-left": 240, "front-left": 300,
    },
    "octo-x": {
        "front-right": 22.5, "right-front": 67.5, "right-rear": 112.5, "rear-right": 157.5,
        "rear-left": 202.5, "left-rear": 247.5, "left-front": 292.5, "front-left": 337.5,
    },
    "octo-plus": {
        "front": 0, "front-right": 45, "right": 90, "rear-right": 135,
        "rear": 180, "rear-left": 225, "left": 270, "front-left": 315,
    },
    "x8": {"front-left": -45, "front-right": 45, "rear-right": 135, "rear-left": 225},
    "y6": {"front-left": -60, "front-right": 60, "rear": 180},
    "custom": {"fore-port": -55, "fore-starboard": 55, "aft-starboard": 125, "aft-port": 235},
}  # fmt: skip
# The fewest grams that somebody builds such a thing with.
LIGHTEST_G = {"hexa-x": 400, "hexa-plus": 400, "octo-x": 1500, "octo-plus": 1500, "x8": 900, "y6": 700, "custom": 150}
# Up to which mass in g how many cells are usual.
CELLS = ((120, (1, 2)), (300, (2, 3)), (800, (3, 4)), (3000, (4, 6)), (7000, (6,)), (25000, (6, 8, 12)))


@dataclass(frozen=True)
class Rotor:
    at: str
    place_mm: tuple[float, float, float]
    spin: str
    nut_points: str


@dataclass(frozen=True)
class Craft:
    """Everything true. Current at a throttle (0 to 1) goes with its cube, thrust with its square."""

    rng: np.random.Generator
    layout: str
    rotors: tuple[Rotor, ...]
    arm_mm: float
    mass_g: float
    prop_in: float
    cells: int
    chemistry: str
    capacity_mah: float
    resistance_ohm: float
    hover_a: float
    full_a: float  # of all motors
    idle_a: float  # what the electronics draw
    hover_throttle: float
    max_thrust_g: float  # of one motor, in the aircraft at the voltage of its hover
    hover_v: float
    latitude: float
    longitude: float
    elevation_m: float
    temperature_c: float
    pressure_hpa: float

    def current_a(self, throttle: float) -> float:
        return self.idle_a + self.full_a * throttle**3

    def open_v(self, used_mah: float) -> float:
        """A cell at rest falls by about half a volt from full to nearly empty (common practice), times the cells."""
        share = used_mah / self.capacity_mah
        return self.cells * (self.full_v - 0.01 - 0.75 * share + 0.25 * share**2)

    @property
    def by_table(self) -> float:
        """Thrust of one motor by itself at a full pack and sea level over what it gives in the aircraft, as it flies.

        With the square of the voltage and with density; rotors on one axis have their power's COAXIAL to -2/3 of it.
        """
        density = self.pressure_hpa * 100 / (GAS * (self.temperature_c + 273.15))
        alone = COAXIAL ** (2 / 3) if self.layout in ("x8", "y6") else 1.0
        return alone * (self.full_v * self.cells / self.hover_v) ** 2 * 1.225 / density

    @property
    def full_v(self) -> float:
        """Of a cell."""
        return 4.35 if self.chemistry == "lipo-hv" else 4.2

    def flat(self, low: float, high: float) -> float:
        return float(self.rng.uniform(low, high))

    def chance(self, of: float) -> bool:
        return bool(self.rng.random() < of)


def ring(rng: np.random.Generator, layout: str, arm_mm: float) -> tuple[Rotor, ...]:
    """The rotors of a layout, spins in turn round the aircraft, or all of them the other way."""
    other = ("cw", "ccw")[:: int(rng.choice([-1, 1]))]
    found = []
    for i, (arm, degrees) in enumerate(RINGS[layout].items()):
        angle = math.radians(degrees)
        place = (arm_mm * math.cos(angle), arm_mm * math.sin(angle), 0.0)
        spin, against = other[i % 2], other[(i + 1) % 2]
        if layout in ("x8", "y6"):
            if layout == "y6":
                spin, against = other
            found.append(Rotor(f"{arm}-upper", place, spin, "up"))
            found.append(Rotor(f"{arm}-lower", place, against, "down"))
        else:
            found.append(Rotor(arm, place, spin, "up"))
    return tuple(found)


def draw(seed: int) -> Craft:
    """One aircraft. Mass spreads evenly over its logarithm, so that small ones are as many as large ones."""
    rng = np.random.default_rng(seed)
    layout = str(rng.choice(list(RINGS)))
    mass_g = math.exp(rng.uniform(math.log(LIGHTEST_G.get(layout, 60)), math.log(25000)))
    mass_g = float(f"{mass_g:.3g}")
    count = len(ring(rng, layout, 1.0))
    loading = rng.uniform(5, 13)  # kg/m² of disc: 5-inch quads about 12, slow large ones 5
    discs = count
    prop_in = math.sqrt(mass_g / 1000 / loading / discs * 4 / math.pi) / 0.0254
    prop_in = min(max(round(prop_in * 2) / 2, 2.0), 30.0)
    # Neighbours are a little further apart than their props are wide.
    arm_mm = round(prop_in * 25.4 * rng.uniform(1.05, 1.3) / (2 * math.sin(math.radians(_nearest(layout)) / 2)))
    latitude, longitude = _place(rng)
    elevation_m = float(round(rng.choice([rng.uniform(0, 300), rng.uniform(0, 2500)])))
    standard_k = 288.15 - 0.0065 * elevation_m
    temperature_c = float(round(standard_k - 273.15 + rng.normal(0, 7)))
    pressure = 1013.25 * (standard_k / 288.15) ** 5.25588 + rng.normal(0, 7)
    density = pressure * 100 / (GAS * (temperature_c + 273.15))
    weight_n = mass_g / 1000 * GRAVITY
    area_m2 = discs * math.pi / 4 * (prop_in * 0.0254) ** 2
    ideal_w = weight_n * math.sqrt(weight_n / (2 * density * area_m2)) * (COAXIAL if layout in ("x8", "y6") else 1.0)
    cells = int(rng.choice(next(some for most, some in CELLS if mass_g <= most)))
    watts = ideal_w / rng.uniform(0.35, 0.65)
    idle_w = rng.uniform(0.4, 1.2) if mass_g < 250 else rng.uniform(1, 2.5) if mass_g < 900 else rng.uniform(2, 6)
    nominal_v = 3.75 * cells
    motors_a, idle_a = watts / nominal_v, idle_w / nominal_v
    hover_a = motors_a + idle_a
    minutes = rng.uniform(4, 9) if mass_g < 900 else rng.uniform(8, 22)
    capacity = hover_a * minutes / 60 * 1000 / 0.8
    lift = rng.uniform(2.0, 4.5) if mass_g < 900 else rng.uniform(1.9, 2.8)  # thrust over weight
    full_a = motors_a * lift**1.5
    capacity = float(f"{max(capacity, 1000 * full_a / 30):.2g}")  # no more than 30 C at full throttle
    return Craft(
        rng=rng,
        layout=layout,
        rotors=ring(rng, layout, arm_mm),
        arm_mm=arm_mm,
        mass_g=mass_g,
        prop_in=prop_in,
        cells=cells,
        chemistry=str(rng.choice(["lipo", "lipo", "lipo", "lipo-hv"] if mass_g < 900 else ["lipo", "lipo", "li-ion"])),
        capacity_mah=capacity,
        # 8 to 14 mΩ a cell and Ah, and leads.
        resistance_ohm=cells * rng.uniform(0.008, 0.014) * 1000 / capacity + rng.uniform(0.0005, 0.001),
        hover_a=hover_a,
        full_a=full_a,
        idle_a=idle_a,
        hover_throttle=lift**-0.5,
        max_thrust_g=mass_g * lift / count,
        hover_v=nominal_v,
        latitude=latitude,
        longitude=longitude,
        elevation_m=elevation_m,
        temperature_c=temperature_c,
        pressure_hpa=pressure,
    )


def _nearest(layout: str) -> float:
    """The least angle between two arms, in degrees."""
    ways = sorted(angle % 360 for angle in RINGS[layout].values())
    return min((after - way) % 360 for way, after in zip(ways, [*ways[1:], ways[0]], strict=True))


def _place(rng: np.random.Generator) -> tuple[float, float]:
    """Where people live; near the magnetic poles no compass is relied on."""
    latitude = rng.uniform(30, 60) if rng.random() < 0.7 else rng.uniform(-45, 30)
    return round(float(latitude), 2), round(float(rng.uniform(-120, 150)), 2)
