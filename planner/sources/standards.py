"""Engineering standards: vehicles, rims, threads, speedometer drives."""

from planner.sources.citing import Source

RIM_DIAMETERS = Source("ISO 4000-2", "Passenger car tyres and rims: rims", "ISO")
AXES = Source("ISO 8855", "Road vehicles: vehicle dynamics vocabulary", "ISO")
VEHICLE_DIMENSIONS = Source("ISO 612", "Road vehicles: dimensions of motor vehicles", "ISO")
CENTER_OF_GRAVITY = Source("ISO 10392", "Road vehicles: determination of centre of gravity", "ISO")
INCH_THREADS = Source("ASME B1.1", "Unified inch screw threads", "ASME")
SPEEDOMETER_DRIVES = Source("SAE J678", "Speedometers and tachometers: automotive", "SAE")
TIRE_FACTORS = Source("ETRTO standards manual", "Rolling circumference factors; greatest sizes in service", "ETRTO")
UNCERTAINTY = Source("JCGM 100", "Guide to the expression of uncertainty in measurement", "JCGM")
COMMERCIAL_TIRE_SIZES = Source("GOST R 52899-2007", "Pneumatic tyres for trucks and trailers", "GOST R")
