"""United Nations regulations on tires and speedometers."""

from planner.sources.citing import Source

R39 = Source("UN R39", "Speedometer and odometer equipment", "UNECE")
R54 = Source("UN R54", "Pneumatic tyres for commercial vehicles and their trailers", "UNECE")
