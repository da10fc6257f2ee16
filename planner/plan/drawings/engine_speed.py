"""Engine speed over road speed in each gear, as found and as planned, with the cruise marked."""

from planner.plan.drawings.drawn_values import known_values, missing_entries
from planner.plan.drawings.scene import Anchor, Chart, Label, Spot, Weight
from planner.plan.truck.project import OpenProject
from planner.quantities.kinds import SPEED, TURNING_SPEED
from planner.quantities.show import default_unit, in_unit
from planner.quantities.text import clean
from planner.trade.gearing.speeds import engine_speed

NEEDED = ("cruise_speed", "highest_engine_speed", "rear_rolling_circumference", "high_range_ratio")


def engine_speed_chart(opened: OpenProject, fitment: str) -> Chart:
    """Every gear of the gearbox in high range, by the rear tires, up to the engine's or the truck's top speed."""
    title = f"engine speed over road speed ({clean(fitment)})"
    missing = missing_entries(opened, fitment, "rear", *NEEDED)
    found_missing = missing_entries(opened, "found", "rear", "rear_rolling_circumference") if fitment != "found" else ()
    gears = list(opened.truck(fitment).drivetrain.gearbox)
    missing = (*missing, *found_missing, *(() if gears else (opened.spoken("drivetrain.gearbox.<gear>"),)))
    if missing:
        return Chart(title, "", "", "", (), missing=tuple(dict.fromkeys(missing)))
    cruise, highest, *_ = known_values(opened, fitment, "rear", *NEEDED)
    top = known_values(opened, fitment, "rear", "top_speed")[0] or 0.0
    style = opened.style
    speed_unit, turning_unit = default_unit(SPEED, style), default_unit(TURNING_SPEED, style)
    end = 1.1 * max(cruise, top)
    shown: tuple[tuple[str, Weight], ...] = (("found", "thin"), (fitment, "outline"))
    if fitment == "found":
        shown = (("found", "outline"),)

    def spot(speed: float, turning: float) -> Spot:
        return in_unit(speed, SPEED, speed_unit), in_unit(turning, TURNING_SPEED, turning_unit)

    def rate(whose: str, gear: str) -> float | None:
        """Engine speed by road speed, 1/m in rad; None where the ratio is not known."""
        nodes = ("rear_rolling_circumference", "axle_ratio", "high_range_ratio")
        circumference, axle, high = known_values(opened, whose, "rear", *nodes)
        ratio = opened.sheet.value(opened.spot("gearbox_ratio", fitment=whose, gear=gear))
        if None in (circumference, axle, high, ratio):
            return None
        return engine_speed(1.0, circumference, ratio * high * axle)

    curves: list[tuple[str, tuple[Spot, ...], Weight]] = []
    for whose, weight in shown:
        for gear in gears:
            slope = rate(whose, gear)
            if slope is not None:
                most = min(end, highest / slope)
                name = clean(gear) if whose == fitment else ""
                curves.append((name, (spot(0.0, 0.0), spot(most, slope * most)), weight))
    low, most_wanted = known_values(
        opened, fitment, "rear", "lowest_cruise_engine_speed", "highest_cruise_engine_speed"
    )
    curves.append(("", (spot(cruise, 0.0), spot(cruise, highest)), "hidden"))
    for wanted in (low, most_wanted):
        if wanted is not None:
            curves.append(("", (spot(0.86 * cruise, wanted), spot(min(end, 1.1 * cruise), wanted)), "hidden"))
    marks, said = [], []
    for whose, _ in reversed(shown):
        slopes = [slope for gear in gears if (slope := rate(whose, gear)) is not None]
        if not slopes:
            continue
        turning = min(slopes) * cruise
        name = "found" if whose == "found" else "planned"
        said.append(f"{in_unit(turning, TURNING_SPEED, turning_unit):.0f} {turning_unit} {name}")
        if turning <= highest:
            at = spot(cruise, turning)
            anchor: Anchor = "right" if whose == "found" else "left"
            marks.append(Label(at, f"{at[1]:.0f} {name}", anchor))
    at_cruise = f"{in_unit(cruise, SPEED, speed_unit):.0f} {speed_unit}"
    words = f"Engine speed in each gear, high range. At the cruise speed of {at_cruise} in top gear: {', '.join(said)}"
    if low is not None and most_wanted is not None:
        between = (in_unit(low, TURNING_SPEED, turning_unit), in_unit(most_wanted, TURNING_SPEED, turning_unit))
        words += f"; you want {between[0]:.0f} to {between[1]:.0f}"
    legend: list[tuple[Weight, str]] = [("outline", f"planned ({clean(fitment)})")] if fitment != "found" else []
    legend += [(shown[0][1], "found"), ("hidden", f"cruise, {at_cruise}")]
    return Chart(
        title,
        f"{words}.",
        f"road speed, {speed_unit}",
        f"engine speed, {turning_unit}",
        tuple((name, points) for name, points, _ in curves),
        tuple(marks),
        weights=tuple(weight for _, _, weight in curves),
        legend=tuple(legend),
    )
