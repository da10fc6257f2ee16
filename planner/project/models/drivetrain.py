"""What drives the axles: engine, transmission, transfer case, and the speedometer drive."""

from pydantic import Field

from planner.project.models.entry import (
    ACount,
    APerMile,
    ARatio,
    AText,
    ATorque,
    ATurningSpeed,
    AYesNo,
    NamedRatio,
    Table,
    fact,
    words,
)


class Motor(Table):
    """The engine, as far as the gearing needs it."""

    description: AText = words("what it is", example="inline six, 230 cu in")
    torque: ATorque = fact("peak torque, from the maker's curve", name="engine_torque", example="190 ft·lb")
    idle: ATurningSpeed = fact("idle speed", name="idle_speed", example="550 rpm ± 50 rpm")
    top_speed: ATurningSpeed = fact("the fastest it may turn", name="highest_engine_speed", example="3,600 rpm")


class Speedometer(Table):
    """How the speedometer is driven."""

    drive_teeth: ACount = fact("teeth on the drive gear in the transmission or transfer case", example="4")
    driven_teeth: ACount = fact("teeth on the driven gear in it now", example="15")
    adapter_ratio: ARatio = fact(
        "turns of the cable for one of the driven gear, if there is an adapter between them",
        name="speedometer_adapter_ratio",
        example="1.12",
        since=2,
    )
    cable_turns_per_mile: APerMile = fact("turns of the cable the speedometer reads as a mile", example="1000")
    pulses_per_revolution: ACount = fact("pulses per turn of the driveshaft, for an electronic sender", example="8")


class Drivetrain(Table):
    """Engine to axle."""

    engine: Motor = Field(default=Motor.model_construct(), description="The engine.")
    gearbox: dict[str, NamedRatio] = Field(default={}, description="Transmission ratios by the gear's name.")
    transfer: dict[str, NamedRatio] = Field(
        default={},
        description="Transfer case ratios by range; direct = 1 if there is none, or say which axle isn't driven.",
    )
    part_time: AYesNo = fact(
        "if four-wheel drive locks front and rear together", name="part_time_four_wheel_drive", example="yes"
    )
    speedometer: Speedometer = Field(default=Speedometer.model_construct(), description="The speedometer drive.")
