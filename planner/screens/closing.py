"""Going back from an open project to the start menu: all that belongs to the project is let go, and nothing is lost."""

import gc
from typing import TYPE_CHECKING

from planner.screens.places.table import NAMES
from planner.screens.start import Start

if TYPE_CHECKING:
    from planner.screens.app import Planner


async def close(planner: "Planner") -> None:
    """Once what is being saved is saved; what was typed and not accepted stays kept, for the next time it is opened."""
    async with planner.door:
        if planner.state is None:  # asked twice
            return
        if planner.outlook is not None:
            planner.outlook.end()
        while len(planner.screen_stack) > 2:
            planner.pop_screen()
        await planner.switch_screen(Start())
        for name in NAMES:
            if planner.is_screen_installed(name):
                place = planner.get_screen(name)
                planner.uninstall_screen(name)
                await place.remove()  # with whatever it was working out
        planner.state = planner.path = planner.outlook = None
        planner.fitment, planner.keeps_typed = "", True
    if not planner.is_headless:
        gc.unfreeze()  # what was kept from being looked through when the project was opened is garbage now
        planner.call_after_refresh(gc.collect)
