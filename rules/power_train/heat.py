"""How warm the lead of a pack gets, and what it takes from the volts."""

from preflint.api import Context, Known, Place, fitted, need
from preflint.compute.ratings import seconds_until, seconds_with_loss, steady_rise_k
from preflint.compute.wire import wire_resistance_ohm
from preflint.frozen import dataclass

from .loads import Load

# What insulation bears that nobody wrote down: PVC the least, silicone the most. Common practice, no source.
ANY_INSULATION_C = (105.0, 200.0)
_HOT_DAY_C = 40.0  # inside an aircraft that stands in the sun; common practice, no source


@dataclass(frozen=True, slots=True)
class Lead:
    """One of the two wires, in air of ``around_c``; ``bears_c``: least and most that its insulation may be good for."""

    gauge_awg: int
    length_mm: float
    bears_c: tuple[float, float]
    around_c: float
    place: Place

    def in_words(self) -> str:
        """For the evidence."""
        low, high = self.bears_c
        bears = f"{low:g} °C" if low == high else f"{low:g} to {high:g} °C"
        return f"{self.gauge_awg} AWG, insulation for {bears}, air {self.around_c:g} °C"

    def drop_v(self, current_a: float) -> float:
        """Over both wires, solid copper at 20 °C."""
        return current_a * wire_resistance_ohm(self.gauge_awg, 2 * self.length_mm / 1000)

    def settles_at_c(self, load: Load) -> tuple[float, float]:
        """Least and most that the copper settles at under that load."""
        return (
            self.around_c + steady_rise_k(self.gauge_awg, load.least)[0],
            self.around_c + steady_rise_k(self.gauge_awg, load.most)[1],
        )

    def seconds(self, load: Load, steady: Load) -> tuple[float, float]:
        """Least and most until the insulation's limit, from the warmth of the hover on; infinite where never.

        The least loses no heat. The most comes nearer to what the wire settles at the slower the nearer it is.
        """
        coolest, warmest = self.settles_at_c(steady)
        low, high = self.bears_c
        start = min(coolest, high)
        no_loss = seconds_until(self.gauge_awg, load.least, start, high)
        most = seconds_with_loss(no_loss, high - start, self.settles_at_c(load)[0] - start)
        return seconds_until(self.gauge_awg, load.most, min(warmest, low), low), most


def lead_of(pack: fitted.Pack, on: Context) -> Lead:
    """Ends the rule as unproven where its gauge is missing."""
    gauge, written, site = need(pack.lead.gauge_awg), pack.lead.insulation_c, on.aircraft.site.temperature_c
    bears = (written.value, written.value) if isinstance(written, Known) else ANY_INSULATION_C
    length = pack.lead.one_way_length_mm
    return Lead(
        gauge.value,
        length.value if isinstance(length, Known) else 0.0,
        bears,
        max(_HOT_DAY_C, site.value) if isinstance(site, Known) else _HOT_DAY_C,
        gauge.place,
    )
