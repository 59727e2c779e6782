"""Does the compass say where the nose points?"""

from . import budget, hard_iron, heading, noise, rotation, soft_iron, strength, total

MODULES = (
    rotation,
    total,
    heading,
    strength,
    hard_iron,
    soft_iron,
    noise,
    budget,
)
