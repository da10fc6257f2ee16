"""French law that prints the international tire tables in full."""

from planner.sources.citing import Source

TIRE_ORDER = Source(
    "French order of 24 October 1994 (EQUS9401799A)", "Tires: load and speed tables", "Ministry of Transport"
)
