"""Props, nuts and threads as plain three-dimensional shapes: the oracle for everything that has a hand.

Imports nothing of the product. Nothing here multiplies labels: a word such as "cw" becomes a shape or a
velocity by a cross product, and an answer is read off by a cross or dot product again.
Space is x, y horizontal and z up.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Blade = tuple[Array, Array, Array, Array]  # position, leading edge, trailing edge, middle of the camber line

UP = np.array([0.0, 0.0, 1.0])


def looks_clockwise(angular_velocity: Array, eye: Array, target: Array) -> bool:
    """Whether a turning about the line of sight looks clockwise to an eye at ``eye`` facing ``target``."""
    sight = target - eye
    helper = np.array([0.3, 0.9, 0.2])
    screen_up = helper - sight * (helper @ sight) / (sight @ sight)
    screen_right = np.cross(sight, screen_up)
    moves = np.cross(angular_velocity, screen_up)  # the point at twelve o'clock
    return bool(moves @ screen_right > 0)


def turning(word: str, eye: Array, target: Array) -> Array:
    """An angular velocity along the line of sight that looks ``word`` to that eye."""
    sight = target - eye
    for angular_velocity in (sight, -sight):
        if looks_clockwise(angular_velocity, eye, target) == (word == "cw"):
            return np.asarray(angular_velocity / np.linalg.norm(angular_velocity))
    raise AssertionError("no turning looks like that")


def seen_as(angular_velocity: Array, eye: Array, target: Array) -> str:
    """``cw`` or ``ccw``, to that eye."""
    return "cw" if looks_clockwise(angular_velocity, eye, target) else "ccw"


ABOVE = 10 * UP
ORIGIN = np.zeros(3)


def blades(hand: str, face: str) -> list[Blade]:
    """Two blades, each (position, leading edge, trailing edge, middle of the camber line).

    Built with the domed side up, as held towards a viewer above; turned over about a horizontal line
    if the domed side is to point down.
    """
    meant = turning(hand, ABOVE, ORIGIN)
    half_chord, pitch, camber = 0.05, np.radians(14), 0.012
    built: list[Blade] = []
    for position in (np.array([1.0, 0.2, 0.0]), np.array([-1.0, -0.2, 0.0])):
        ahead = np.cross(meant, position)
        ahead /= np.linalg.norm(ahead)
        # The leading edge is the higher one with the domed side up: the blade scoops air away from the dome.
        chord = half_chord * (np.cos(pitch) * ahead + np.sin(pitch) * UP)
        dome = np.cos(pitch) * UP - np.sin(pitch) * ahead
        built.append((position, position + chord, position - chord, position + camber * dome))
    if face == "up":
        return built
    over = turn_over()
    return [(over @ a, over @ b, over @ c, over @ d) for a, b, c, d in built]


def turn_over() -> Array:
    """A half turn about a horizontal line."""
    line = np.array([0.6, 0.8, 0.0])
    return np.asarray(2 * np.outer(line, line) - np.eye(3))


def dome_points_up(blade: Blade) -> bool:
    """Whether the blade is arched upward."""
    _, leading, trailing, middle = blade
    return bool((middle - (leading + trailing) / 2) @ UP > 0)


def edge_first(spin: str, blade: Blade) -> bool:
    """Whether the edge named leading goes first."""
    position, leading, trailing, _ = blade
    return bool(np.cross(turning(spin, ABOVE, ORIGIN), position) @ (leading - trailing) > 0)


def air_goes(spin: str, blade: Blade) -> float:
    """Vertical part of the push a flat blade gives the air it runs into (positive up)."""
    position, leading, trailing, _ = blade
    velocity = np.cross(turning(spin, ABOVE, ORIGIN), position)
    normal = np.cross(leading - trailing, position)
    return float((normal * (normal @ velocity)) @ UP)


def drag_torque(angular_velocity: Array) -> Array:
    """Torque of the drag on two opposite blades, about the shaft."""
    torque = np.zeros(3)
    for position in (np.array([1.0, 0.2, 0.0]), np.array([-1.0, -0.2, 0.0])):
        torque += np.cross(position, -np.cross(angular_velocity, position))
    return torque


class Shaft:
    """A threaded shaft whose free end, with the nut, points up or down."""

    def __init__(self, thread: str, nut_points: str) -> None:
        self.outwards = UP if nut_points == "up" else -UP
        self.eye = 10 * self.outwards  # of somebody who looks at the nut
        self.thread = thread

    def helix(self, angle: float) -> Array:
        """The thread as a curve: a right-hand one climbs as the fingers of the right hand curl."""
        across = np.array([1.0, 0.0, 0.0])
        curl = np.cross(self.outwards, across)
        climb = 0.1 * angle * self.outwards
        if self.thread == "right":
            return np.asarray(np.cos(angle) * across + np.sin(angle) * curl + climb)
        return np.asarray(np.cos(angle) * across - np.sin(angle) * curl + climb)

    def nut_moves(self, relative_turning: Array) -> float:
        """How far outwards a nut goes when turned a little on the shaft: its thread stays on the helix."""
        small = 1e-3
        point = self.helix(0.7)
        turned = point + small * np.cross(relative_turning, point)
        steps = np.linspace(0.69, 0.71, 401)
        curve = np.array([self.helix(step) for step in steps])
        flat = np.eye(3) - np.outer(self.outwards, self.outwards)
        nearest = np.argmin(np.linalg.norm((curve - turned) @ flat, axis=1))
        return float((curve[nearest] - point) @ self.outwards)

    def tightens(self, relative_turning: Array) -> bool:
        """Towards the motor is tighter."""
        return self.nut_moves(relative_turning) < 0

    def tightening_word(self) -> str:
        """The way the nut goes on, as somebody sees it who looks at the nut."""
        for candidate in (self.outwards, -self.outwards):
            if self.tightens(candidate):
                return seen_as(candidate, self.eye, ORIGIN)
        raise AssertionError("neither way tightens")
