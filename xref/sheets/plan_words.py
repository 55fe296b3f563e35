"""A plan put into words: every count, question, connector to work at, and list the formats print."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources

from xref.moves.figures import figures_of
from xref.moves.questions import by_kind
from xref.moves.records import Plan
from xref.moves.worklist import WorkLine, WorkPlace, work_places
from xref.records import PageNote
from xref.sheets.plan_lists import listings_of
from xref.sheets.printed_plan import PrintedCut, PrintedFigure, PrintedPlan, PrintedStation, letters_of
from xref.sheets.texts import on_one_line
from xref.sheets.wires import wire_of

_NOTHING_MOVES = "Nothing moves by this plan, so nothing is cut."
_NOTHING_CUT = "Nothing is cut by this plan as it stands."


def plan_in_words(plan: Plan, unread: Iterable[PageNote] = ()) -> PrintedPlan:
    """Return all that a plan says on paper. Texts of the manual are on one line and fit for any file."""
    letters = letters_of([cut.pin.document for cut in plan.cuts])
    moves = any(net.touched for net in plan.nets)
    return PrintedPlan(
        title=on_one_line(plan.name.replace("\\", "/").rsplit("/", 1)[-1]),
        machine=on_one_line(plan.machine),
        documents=tuple((letter, on_one_line(name)) for name, letter in letters.items()),
        cautions=plan.cautions,
        caution_short=_caution_short(),
        unread=tuple(on_one_line(f"{note.document}, page {note.page}: {note.why}") for note in unread),
        figures=tuple(
            PrintedFigure(title=f.title, figure=f.figure, one_by_one=f.one_by_one, how=f.how)
            for f in figures_of(plan)
        ),
        questions=tuple(
            (title, tuple((on_one_line(q.text), on_one_line(q.settle)) for q in questions))
            for title, questions in by_kind(plan.questions)
        ),
        stations=tuple(_station(place, letters) for place in work_places(plan)),
        listings=listings_of(plan),
        nothing="" if plan.cuts else _NOTHING_CUT if moves else _NOTHING_MOVES,
    )


@cache
def _caution_short() -> str:
    text = resources.files("xref.data").joinpath("cautions.toml").read_text(encoding="utf-8")
    return str(tomllib.loads(text)["plan"]["short"])


def _station(place: WorkPlace, letters: Mapping[str, str]) -> PrintedStation:
    return PrintedStation(
        name=on_one_line(place.name),
        component=on_one_line(place.component),
        going=on_one_line(place.going),
        checks=tuple(on_one_line(text) for text in place.checks),
        cuts=tuple(_cut(line, letters) for line in place.lines),
    )


def _cut(line: WorkLine, letters: Mapping[str, str]) -> PrintedCut:
    cut, pin = line.cut, line.colored
    page = str(cut.pin.page)
    if cut.pin.page_label and cut.pin.page_label != page:
        page = f"{page} “{on_one_line(cut.pin.page_label)}”"
    first, second = (on_one_line(text) for text in cut.labels)
    return PrintedCut(
        id=cut.id,
        cavity=on_one_line(cut.pin.cavity),
        circuit=on_one_line(cut.circuit),
        wire=wire_of(pin),
        size=on_one_line(line.size),
        does=on_one_line(line.does),
        where=on_one_line(cut.where),
        meter=tuple(on_one_line(text) for text in line.checks),
        labels=(first, second),
        plug=on_one_line(line.plug),
        loom=on_one_line(line.loom),
        extensions=tuple(on_one_line(text) for text in line.extensions),
        source=f"{letters[cut.pin.document]} p. {page}",
        document=on_one_line(cut.pin.document),
        page=page,
        safety=", ".join(line.net.review),
    )
