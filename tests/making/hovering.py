"""A hover in open air, and the air of ISO 2533 at sea level (1.225 kg/m3) that it is made in."""

SEA_LEVEL = "{elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25, relative_humidity_percent: 0}"


def hover(
    current: float | str, volts: float = 15.0, mass: float = 1500, height: float = 3, wind: float = 0,
    lasted: float = 60, more: str = "",
) -> str:  # fmt: skip
    """The entry of one hover; ``more`` is what else it notes."""
    return (
        f"date: 2026-05-17, mean_current_a: {current}, mean_voltage_v: {volts}, duration_s: {lasted}, "
        f"takeoff_mass_g: {mass}, height_m: {height}, wind_m_s: {wind}{more}"
    )
