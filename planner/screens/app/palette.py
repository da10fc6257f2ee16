"""The command palette: every action of the place in sight, and every place to go to."""

from collections.abc import Iterator
from functools import partial

from textual.app import SystemCommand
from textual.screen import Screen

from planner.screens.actions import actions_at
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.places.table import PLACES
from planner.screens.state_app import StateApp


def commands(planner: StateApp, screen: Screen[object]) -> Iterator[SystemCommand]:
    """What can be asked for by name, here and now."""
    if not isinstance(screen, PlaceScreen):
        return
    for one in actions_at(*screen.action_groups):
        if screen.check_action(one.name, ()):
            yield SystemCommand(one.label, one.says, partial(screen.run_action, one.name))
    for place in PLACES:
        yield SystemCommand(f"go to {place.title}", place.what, partial(planner.go, place.name))
