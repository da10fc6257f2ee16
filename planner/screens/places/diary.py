"""The diary: what was changed, when and why, the newest first; any entry seen whole, and its state brought back."""

import asyncio
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from textual import work

from planner.plan.state import return_to
from planner.plan.truck.entry_names import lasting_name
from planner.plan.truck.wording import count
from planner.project.diary import would_change
from planner.project.diary_entries import DiaryEntry
from planner.project.diary_reading import Diary, diary_path, read_diary, read_last
from planner.project.diary_words import entry_lines, move
from planner.project.faults import LONGEST_SAID, Faulty, as_line, plain
from planner.project.source import ProjectText
from planner.project.way_back import standing_words
from planner.quantities.text import clean
from planner.screens.dialogs.long_text import Agree, LongText
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.columns import ListRow
from planner.screens.widgets.row_list import RowList

FEW = 300  # entries listed at a time
WHOLE = 4 * 1024 * 1024  # bytes; a diary up to this is read whole, to see all that is damaged in it
MORE = "more"
SHOWN = 3  # keys of one entry in the list
BESIDE = 60  # lines of one entry beside the list


class DiaryListing(NamedTuple):
    """A diary as far as it was read, or why it cannot be; and how the project stands to it."""

    diary: Diary | None
    stands: str = ""
    trouble: str = ""


class DiaryPlace(PlaceScreen):
    PLACE = "diary"
    ASKS = False

    def __init__(self) -> None:
        super().__init__()
        self._few = FEW
        self._listed = DiaryListing(None)

    def fill(self) -> None:
        self._read()

    @work(exclusive=True, group="diary")
    async def _read(self) -> None:
        """Reads it in a thread; what was listed stays in sight meanwhile."""
        self._listed = await asyncio.to_thread(_listed, self.state.source, self._few)
        self.query_one(RowList).fill(list(self._rows()))

    def _rows(self) -> Iterator[ListRow]:
        listed = self._listed
        if listed.trouble:
            yield ListRow(listed.trouble, mark="CLOSED", tone="error", about="trouble")
        if listed.stands:
            yield ListRow(listed.stands, mark="note", tone="warning", about="stands")
        if listed.diary is None:
            return
        for fault in listed.diary.troubles:
            yield ListRow(
                f"line {fault.line}: {fault.message}", mark="DAMAGED", tone="error", about=("fault", fault.line)
            )
        entries = listed.diary.entries[-self._few :]
        yield from map(_row, reversed(entries))
        earlier = entries[0].number - 1 if entries else 0
        if earlier:
            yield ListRow(f"… {count(earlier, 'earlier entry', 'earlier entries')}: Enter lists more", about=MORE)

    def _entry(self, row: ListRow | None) -> DiaryEntry | None:
        found = self._listed.diary.entries if self._listed.diary else []
        return next((one for one in reversed(found) if row is not None and one.number == row.about), None)

    def words_for(self, row: ListRow) -> str:
        entry = self._entry(row)
        lines = entry_lines(entry, lasting_name) if entry else [clean(row.name)]
        more = len(lines) - BESIDE
        return "\n".join([*lines[:BESIDE], *([f"… and {more} more: Enter shows everything"] if more > 0 else [])])

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        entry = self._entry(event.row)
        if event.row.about == MORE:
            self._few += FEW
            self._read()
        elif entry is not None:
            number = entry.number
            first, *rest = entry_lines(entry, lasting_name)
            shown = LongText(first, "\n".join(rest) or "It left the text of the project as it was.", again="b")

            def read(wanted: bool | None) -> None:
                if wanted:
                    self._ask_back(number)

            self.app.push_screen(shown, read)

    def action_detail(self) -> None:
        self.query_one(RowList).action_select()

    def action_bring_back(self) -> None:
        entry = self._entry(self.query_one(RowList).current)
        if entry is None:
            self.planner.say("There's no entry under the cursor.")
        else:
            self._ask_back(entry.number)

    @work(exclusive=True, group="diary back")
    async def _ask_back(self, number: int) -> None:
        """Shows what bringing it back would change before anything does."""
        try:
            moved = await asyncio.to_thread(would_change, self.state.source, number)
        except Faulty as faulty:
            self.planner.say(_told(faulty), bad=True)
            return
        if not moved:
            self.planner.say(f"The project already says what entry {number} left.")
            return

        def back(because: str | None) -> None:
            if because is not None:
                self.planner.start_job(f"bringing back entry {number}", lambda state: return_to(state, number, because))

        title = f"Bring back what entry {number} left? It changes {count(len(moved), 'key')}:"
        self.app.push_screen(Agree(title, "\n".join(move(one, None, lasting_name) for one in moved)), back)


def _listed(source: ProjectText, few: int) -> DiaryListing:
    path = source.path
    try:
        small = diary_path(path).stat().st_size <= WHOLE
    except OSError:
        small = True
    try:
        diary = read_diary(path) if small else read_last(path, few)
    except Faulty as faulty:
        return DiaryListing(None, trouble=_told(faulty))
    return DiaryListing(diary, standing_words(diary, source))


def _told(faulty: Faulty) -> str:
    """The fault by its file's name, which is the diary's, and its line there."""
    return as_line(Path(faulty.path.name), faulty.faults[0])


def _row(entry: DiaryEntry) -> ListRow:
    kind = plain(entry.kind)
    about = entry.details.get("task")
    words = f"{kind} {plain(about)}" if isinstance(about, str) else kind
    moved = [move(one, entry.details.get("obstacles"), lasting_name) for one in entry.moved[:SHOWN]]
    more = len(entry.moved) + entry.left_out - len(moved)
    what = "; ".join(
        [plain(entry.because, LONGEST_SAID)] * bool(entry.because) + moved + [f"and {more} more"] * (more > 0)
    )
    return ListRow(f"{entry.number}  {plain(entry.at)[:16].replace('T', ' ')}", words, what, about=entry.number)
