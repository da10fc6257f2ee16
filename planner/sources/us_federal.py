"""United States federal rules and what the safety agency publishes on them."""

from planner.sources.citing import Source

LAMPS = Source("49 CFR 571.108", "Lamps, reflective devices, and associated equipment", "NHTSA")
TIRE_SELECTION = Source("49 CFR 571.120", "Tire selection and rims for heavier vehicles", "NHTSA")
TIRE_INTERPRETATION_1976 = Source("NHTSA interpretation nht76-1.47", "Passenger tires on trucks, 17 Nov 1976", "NHTSA")
AXLE_INTERPRETATION_1977 = Source(
    "NHTSA interpretation 77-3.29", "Tires' sum against axle rating, 15 Jul 1977", "NHTSA"
)
VEHICLE_IN_USE = Source("49 CFR Part 570", "Vehicle in use inspection standards", "NHTSA")
CARRIER_SPEEDOMETERS = Source("49 CFR 393.82", "Speedometers on commercial vehicles", "FMCSA")
RIM_SERVICING = Source("29 CFR 1910.177", "Servicing multi-piece and single piece rim wheels", "OSHA")
LEGAL_WIDTH = Source("23 CFR 658.15", "Width", "FHWA")
ROLLOVER = Source("NHTSA rollover notice (2000), Chapter V", "Static stability factor", "NHTSA")
ARMY_TIRE_CARE = Source("TM 9-2610-200-14", "Care, maintenance, repair and inspection of pneumatic tires", "US Army")
