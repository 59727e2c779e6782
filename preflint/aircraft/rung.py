"""The three rungs on which an aircraft's owner climbs: by what is needed at hand to show a thing."""

from enum import IntEnum


class Rung(IntEnum):
    """How much it takes to show something, least first."""

    BENCH_LOOK = 1
    METER = 2
    LOAD = 3

    def __str__(self) -> str:
        return self.name.lower().replace("_", " ")

    @property
    def tools(self) -> str:
        """What is needed at hand besides the aircraft and its transmitter."""
        return _TOOLS[self]


_TOOLS = {
    Rung.BENCH_LOOK: "nothing but eyes and fingers",
    Rung.METER: "scales, a voltmeter, the weather report and a map",
    Rung.LOAD: "ties and a clamp meter, or a hover log; known directions for the compass",
}
