"""The unit that the name of a field or column ends in, as people write it."""

_UNITS = (
    ("_ut_per_a", "µT/A"), ("_mv_per_a", "mV/A"), ("_rpm_per_v", "rpm/V"), ("rated_c", "1/h"), ("_awg", "AWG"),
    ("_m_s2", "m/s²"), ("_m_s", "m/s"), ("_g_mm", "g mm"),
    ("_mgauss", "mG"), ("_percent", "%"), ("_mah", "mAh"), ("_hpa", "hPa"), ("_deg", "°"), ("_min", "min"),
    ("_mv", "mV"), ("_ut", "µT"), ("_mm", "mm"), ("_v", "V"), ("_a", "A"), ("_c", "°C"), ("_g", "g"), ("_in", "in"),
    ("_m", "m"), ("_s", "s"), ("rpm", "rpm"), ("seconds_to_stop", "s"), ("minutes", "min"),
    ("minutes_on", "min"), ("_mhz", "MHz"), ("_db", "dB"), ("_h", "h"),
)  # fmt: skip


def unit_of(name: str) -> str:
    """ "V" of ``indicated_v``; "" where the name has none. A pack's rating is a multiple of its capacity per hour."""
    return next((unit for end, unit in _UNITS if name.endswith(end)), "")
