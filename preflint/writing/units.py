"""The unit that the name of a field or column ends in, as people write it."""

_UNITS = (
    ("_ut_per_a", "µT/A"), ("_mv_per_a", "mV/A"), ("_m_s2", "m/s²"), ("_m_s", "m/s"), ("_g_mm", "g mm"),
    ("_mgauss", "mG"), ("_percent", "%"), ("_mah", "mAh"), ("_hpa", "hPa"), ("_deg", "°"), ("_min", "min"),
    ("_mv", "mV"), ("_ut", "µT"), ("_mm", "mm"), ("_v", "V"), ("_a", "A"), ("_c", "°C"), ("_g", "g"),
    ("_m", "m"), ("_s", "s"), ("rpm", "rpm"),
)  # fmt: skip


def unit_of(name: str) -> str:
    """ "V" of ``indicated_v``; "" where the name has none."""
    return next((unit for end, unit in _UNITS if name.endswith(end)), "")
