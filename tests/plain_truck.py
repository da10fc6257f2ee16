"""Assumptions set so that sums by hand stay short: an axle whose stops stand at its hubs, a tire that does not grow."""

_VALUES = {
    "bump_gives": "0 mm",
    "side_shift": "0 mm",
    "stops_share": "1",
    "droop_share": "1",
    "weight_reach": "0 mm",
    "bias_growth": "0 %",
    "bias_width_growth": "0 %",
}

STILL_AXLE = "".join(f'[assumptions.{name}]\nvalue = "{_VALUES[name]}"\n' for name in list(_VALUES)[:4])

PLAIN = "".join(f'[assumptions.{name}]\nvalue = "{value}"\n' for name, value in _VALUES.items())
