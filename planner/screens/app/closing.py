"""Going back from an open project to the start menu: all that belongs to the project is let go, and nothing is lost."""

import gc

from textual.screen import Screen

from planner.screens.app.external_change import ChangeWatch
from planner.screens.state_app import StateApp


async def close_project(planner: StateApp, change_watch: ChangeWatch | None, menu: Screen[None]) -> bool:
    """Once what is being saved is saved; what was typed and not accepted stays kept, for the next time it is opened.

    Whether there was a project to be closed: a person may ask twice.
    """
    async with planner.job_lock:
        if planner.state is None:
            return False
        if change_watch is not None:
            change_watch.end()
        while len(planner.screen_stack) > 2:
            planner.pop_screen()
        await planner.switch_screen(menu)
        for name in planner.places:
            if planner.is_screen_installed(name):
                place = planner.get_screen(name)
                planner.uninstall_screen(name)
                await place.remove()  # with whatever it was working out
        planner.state = None
        planner.fitment, planner.keeps_typed = "", True
    if not planner.is_headless:
        gc.unfreeze()  # what was kept from being looked through when the project was opened is garbage now
        planner.call_after_refresh(gc.collect)
    return True
