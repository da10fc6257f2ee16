"""Taking on a caution: what it says, what it would rest on, and the reason; a stop is refused with the reason why."""

from planner.plan.answers.flagging import Flag
from planner.plan.revisit.acceptances import accept, why_not
from planner.plan.state import State
from planner.screens.dialogs.ask import Ask
from planner.screens.places.place_screen import PlaceScreen


async def ask_and_accept(place: PlaceScreen, flag: Flag) -> bool:
    """Asks for the reason and writes it down; whether it was."""
    state = place.planner.state
    refused = why_not(state.opened, flag) if state is not None else ""
    if refused:
        place.planner.say(refused, bad=True)
        return False
    told = [flag.says, f"do: {flag.cure}", "It comes up again when something it rests on changes."]
    asked = Ask(f"Accept: {flag.notice}", "why do you accept it?", told=[one for one in told if one])
    return await place.ask_and_record(
        asked, "accepting", lambda state, because: accept(state.opened, same_flag(state, flag), because)
    )


def same_flag(state: State, flag: Flag) -> Flag:
    """The flag as it stands now: nothing is accepted that has become another meanwhile."""
    return next((one for one in state.flags if (one.rule.name, one.where) == (flag.rule.name, flag.where)), flag)
