"""Examples of the starting file that are not the entry's own: the truck as found, its rear axle, lists and sums."""

# All of one truck that agrees with itself: 7.50-16 on the axles below, a candidate of 37x12.50R17LT in its place.
_SET = '"axles.front.steering.stop_angle"'
SAMPLES = {
    "axles.rear": {
        "description": "solid rear axle, full-floating shafts",
        "steered": "false",
        "rating": "5,200 lb",
        "shaft_rating": "3,900 ft·lb",
    },
    "fitments.found": {
        "axle_ratio": "4.89",
        "description": "7.50-16 bias tires on the two-piece wheels it came on",
        "price": "0",
        "lead_time": "0 weeks",
    },
    "fitments.found.tire": {
        "designation": "7.50-16",
        "construction": "bias",
        "overall_diameter": "31.8 in ± 1/8 in",
        "section_width": "8 1/2 in ± 1/8 in",
        "tread_width": "5 3/4 in ± 1/8 in",
        "loaded_radius": "15 1/4 in ± 1/8 in",
        "rolling_circumference": "95 in ± 1/4 in",
        "load_index": "116",
        "load_capacity": "2,755 lb",
        "load_index_dual": "114",
        "load_capacity_dual": "2,600 lb",
        "rated_pressure": "65 psi",
        "least_pressure": "30 psi",
        "speed_symbol": "L",
        "tube": "tube",
        "date_code": "1409",
        "narrowest_rim": "5 1/2 in",
        "widest_rim": "6 1/2 in",
        "mass": "48 lb",
    },
    "fitments.found.wheel": {
        "description": "two-piece, lock ring on the outside",
        "rim_diameter": "16",
        "rim_width": "6 in ± 1/16 in",
        "backspace": "4 in ± 1/16 in",
        "offset": "12.7 mm",
        "well_depth": "1 in",
        "barrel_radius": "6 3/4 in ± 1/16 in",
        "load_rating": "2,800 lb",
        "mass": "42 lb",
        "pieces": "multi",
        "tubeless": "no",
    },
    "fitments.found.spare": {"designation": "7.50-16", "overall_diameter": "31.8 in ± 1/8 in"},
    "plan": {"hours_a_week": "8", "budget": "6500"},
    "changes": {"state": "done", "with": '["taller"]', "because": "a degree more than the spring allows"},
    f"changes.measured.{_SET}": {"value": "27 1/4 deg ± 1/4 deg"},
    "readings": {"of": "axles.front.steering.stop_angle", "value": "29 deg ± 1 deg", "fitment": "taller"},
    "offered": {"designation": "37x12.50R17LT"},
    "plan.stages": {"rear": "taller", "changes": '["longer stop screws"]'},
    "parts.quotes": {"currency": "USD"},
    "decisions": {"options": '["17x9", "17x11"]'},
    "tasks": {"after": '["receive.count"]'},
    "parts": {"price": "285", "quantity": "5", "used_for": '["taller"]'},
}


def sample(table: str, field: str, otherwise: str) -> str:
    """The example of an entry in a table of the file."""
    return SAMPLES.get(table, {}).get(field, otherwise)
