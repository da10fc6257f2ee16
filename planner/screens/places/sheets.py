"""The printed sheets: the kinds that there are, every one printed so far, and whether it still says what is so."""

from collections.abc import Iterator

from planner.plan.work.record_changes import record_changes
from planner.project.models.work import PrintedSheet
from planner.quantities.text import clean
from planner.screens.dialogs.print_sheet import PrintSheet
from planner.screens.places.place_screen import PlaceScreen
from planner.screens.widgets.columns import ListRow, heading
from planner.screens.widgets.row_list import RowList
from planner.sheets.kind import SheetKind, kinds

SLIP = "slip"


class SheetsPlace(PlaceScreen):
    PLACE = "sheets"
    ASKS = False

    def fill(self) -> None:
        self.query_one(RowList).fill(list(self._rows()))

    def _rows(self) -> Iterator[ListRow]:
        yield heading("to print")
        for kind in kinds().values():
            yield ListRow(kind.title, kind.what, about=kind.name)
        printed = self.state.opened.project.sheets
        yield heading("printed so far" if printed else "nothing was printed yet")
        for sheet in reversed(printed):
            gone = self._moved(sheet)
            stands = "out of date" if gone else "as it is" if self._rested(sheet) else ""
            mark = "old" if gone else ""
            yield ListRow(
                _named(sheet), f"{sheet.on or ''}", stands, mark=mark, tone="warning", about=("sheet", sheet.number)
            )

    def _moved(self, sheet: PrintedSheet) -> str:
        """All that is no longer as the sheet has it; empty where nothing moved."""
        return "; ".join(one.says for one in record_changes(self.state.opened, sheet))

    def _rested(self, sheet: PrintedSheet) -> bool:
        return bool(self.state.opened.rested_on(sheet))

    def _sheet(self, row: ListRow | None) -> PrintedSheet | None:
        sheets = self.state.opened.project.sheets
        return next((one for one in sheets if row is not None and row.about == ("sheet", one.number)), None)

    def _kind(self, row: ListRow | None) -> SheetKind | None:
        return kinds().get(row.about) if row is not None and isinstance(row.about, str) else None

    def words_for(self, row: ListRow) -> str:
        sheet, kind = self._sheet(row), self._kind(row)
        if kind is not None:
            return clean(f"{kind.title}: {kind.what}. Enter prints one.")
        if sheet is None:
            return ""
        gone = self._moved(sheet)
        since = f"Since then: {gone}." if gone else "Nothing it rests on has changed." if self._rested(sheet) else ""
        printed = f"{_named(sheet)}, printed {sheet.on or 'nobody knows when'}."
        return clean(f"{printed} {since} Enter prints the change slip since it.")

    def on_row_list_chosen(self, event: RowList.Chosen) -> None:
        kind = self._kind(event.row)
        if kind is not None:
            self.app.push_screen(PrintSheet(kind), self._printed)
        else:
            self.action_slip()

    def action_print(self) -> None:
        self.query_one(RowList).action_select()

    def action_slip(self) -> None:
        sheet = self._sheet(self.query_one(RowList).current)
        if sheet is None or sheet.kind == SLIP:
            self.planner.say("The cursor isn't on a sheet you could pin a slip over.")
        else:
            self.app.push_screen(PrintSheet(kinds()[SLIP], sheet.number), self._printed)

    def _printed(self, number: int | None) -> None:
        if number is not None:
            self.query_one(RowList).point_at(about=("sheet", number))


def _named(sheet: PrintedSheet) -> str:
    kind = kinds().get(str(sheet.kind))
    return f"{clean(kind.title if kind else str(sheet.kind or 'sheet'))}, sheet {sheet.number}"
