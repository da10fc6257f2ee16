"""What can be done at the keyboard: the one table that keys, footer, palette and help read.

No bare letter writes a file, undoes or closes a project: a sentence typed at the wrong place changes nothing.
"""

from typing import NamedTuple

from textual.binding import Binding


class Action(NamedTuple):
    """One thing to do: its method `action_NAME`, its keys, a word for the footer and a sentence for the help.

    `at` is the place that has it, empty for all of them; `footer` says whether it is worth room there.
    """

    name: str
    keys: str
    label: str
    says: str
    at: str = ""
    footer: bool = False


FACTS = "facts"  # every place that is a form

ACTIONS = (
    Action("help", "f1", "help", "What this place is for, and every key", footer=True),
    Action("places", "f2,g", "go to", "Go to another place", footer=True),
    Action("search", "f3,slash", "search", "Search entries, figures, flags and tasks", footer=True),
    Action("why", "f4,question_mark", "why", "Why the value under the cursor is what it is", footer=True),
    Action("overview", "f5", "overview", "Go to what's raised and what isn't known"),
    Action("picture", "f6,p", "picture", "Show the next picture of this place, or the list again", footer=True),
    Action("place_before", "f7,ctrl+pageup", "place before", "Go to the place before this one"),
    Action("place_after", "f8,ctrl+pagedown", "place after", "Go to the place after this one"),
    Action("other_fitment", "f9,w", "other fitment", "Look at the next candidate, or at the truck as found"),
    Action("next_task", "f10", "next task", "Go to the most urgent task"),
    Action("undo", "ctrl+z", "undo", "Undo the last change; the diary keeps both"),
    Action("redo", "ctrl+y", "redo", "Redo the change you undid"),
    Action("copy", "c", "copy", "Copy this list as text"),
    Action("save_list", "f12", "save list", "Save this list as a text file beside the project"),
    Action("read_again", "ctrl+r", "read again", "Read the project file again"),
    Action("menu", "ctrl+o", "start menu", "Close this project; start a new one, open one, or look at an example"),
    Action("answer", "enter", "next", "Take the answer you typed, and ask the next question", "ask", footer=True),
    Action("skip", "ctrl+s", "skip", "Put the question off", "ask", footer=True),
    Action("back", "ctrl+b", "back", "Go back to the question before", "ask", footer=True),
    Action("not_there", "ctrl+n", "not there", "This truck doesn't have one", "ask", footer=True),
    Action("later", "escape", "later", "This evening's page; it keeps your place", "ask", footer=True),
    Action("tool", "ctrl+t", "tool", "It was read with another tool, or guessed", "ask", footer=True),
    Action("way", "ctrl+g", "way", "Take it another way", "ask", footer=True),
    Action(
        "place_at",
        "ctrl+l",
        "where",
        "Say where you are, and be asked what you can answer there",
        "ask",
        footer=True,
    ),
    Action("change", "enter", "change", "Change the entry under the cursor", FACTS),
    Action("list", "escape", "list", "Back to the list from its picture", FACTS),
    Action("clear", "delete", "clear", "Delete this entry", FACTS),
    Action("add", "ctrl+n,n", "new", "Start something new, such as an obstacle or a part", FACTS, footer=True),
    Action("tick", "space", "tick", "Tick the task under the cursor, with its value", "tasks", footer=True),
    Action("read", "enter", "details", "Show everything about the task", "tasks", footer=True),
    Action("filter", "f", "show", "Show only some: what can be done now, hold points, a phase", "tasks", footer=True),
    Action("add", "ctrl+n,n", "new", "Add a task of your own", "tasks", footer=True),
    Action("waits", "a", "waits on", "Say what else the task waits on", "tasks"),
    Action("note", "e", "note", "Write a note on the task", "tasks"),
    Action("photo", "h", "photo", "Name a photo of the task, with what it shows", "tasks"),
    Action("reopen", "o", "reopen", "Reopen a ticked or dropped task, with a reason", "tasks"),
    Action("drop", "d", "drop", "Drop a task you won't do, with a reason", "tasks"),
    Action("step", "space", "next step", "Decide the change; once decided, mark it done", "changes", footer=True),
    Action("back", "b", "give up", "Give the change up, with a reason", "changes", footer=True),
    Action("print", "enter", "print", "Print a sheet of this kind, or the slip since one", "sheets", footer=True),
    Action("slip", "l", "slip", "Print the change slip since the sheet under the cursor", "sheets", footer=True),
    Action("detail", "enter", "details", "Show the whole entry under the cursor", "diary", footer=True),
    Action(
        "bring_back", "b", "bring back", "Bring the project back to the entry under the cursor", "diary", footer=True
    ),
    Action("accept", "a", "accept", "Accept the caution under the cursor, with a reason", "overview", footer=True),
    Action("step", "space", "next step", "A part's next state; decide or accept again", "parts", footer=True),
    Action("back", "b", "back", "Send the part back; take back an acceptance", "parts", footer=True),
    Action("photo", "h", "photo", "Name a photo of the part, wheel or decision, with what it shows", "parts"),
    Action("try_all", "f", "try / stop", "Try everything you can get; again stops it", "proposals", footer=True),
    Action("take", "space", "take", "Make the proposal a candidate, with the reason", "proposals", footer=True),
    Action(
        "choose",
        "space",
        "choose",
        "Choose the candidate, with the reason why",
        "candidates",
        footer=True,
    ),
    Action("everything", "e", "all rows", "Show everything, or only what's different", "candidates", footer=True),
    Action("add", "ctrl+n,n", "new", "Start a new candidate, empty or as a copy", "candidates", footer=True),
    Action("remove", "delete", "remove", "Delete this candidate", "candidates"),
    Action("before", "left", "left", "Go to the candidate on the left", "candidates"),
    Action("after", "right", "right", "Go to the candidate on the right", "candidates"),
)


def actions_at(*places: str) -> list[Action]:
    """The actions of these places and of all of them."""
    return [one for one in ACTIONS if one.at in places]


def bindings(*places: str) -> list[Binding]:
    """The keys of these places; a key that a list takes itself, such as Enter, is only shown."""
    return [
        Binding(one.keys, one.name, one.label, show=one.footer, tooltip=one.says, id=f"{one.at or 'all'}.{one.name}")
        for one in actions_at(*places)
    ]
