"""The nets that are open, and what may be asked of them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec import starter_spec
from net3d.spec.rewriting import rewritten
from net3d.workshop.folder import Folder, NotHereError
from net3d.workshop.solving import Job, Solver
from net3d.workshop.work import Work

MOST_BOXES = 500  # changed at once


class Workshop:
    """A folder's nets, each opened when it is first asked for."""

    def __init__(self, folder: Folder) -> None:
        self.folder = folder
        self._open: dict[str, Work] = {}
        self._solver = Solver(self._deliver)

    def close(self) -> None:
        """End the solving."""
        self._solver.close()

    def open(self, name: str) -> Work:
        """A net of the folder. Raises NotHereError, or SpecError where its file is no text."""
        path = self.folder.path(name)
        if name not in self._open:
            self._open[name] = Work(path, self._ask)
        return self._open[name]

    def do(self, work: Work, deed: str, asked: dict[str, Any]) -> dict[str, Any]:
        """Do what a page asks. Raises NetError where it cannot be done, NotHereError for no known deed."""
        window = str(asked.get("window", ""))[:40]
        match deed:
            case "change":
                work.change(_texts(asked.get("boxes")), window)
            case "remedy":
                work.make(_plain_changes(asked.get("changes")), window)
            case "row":
                work.row(str(asked.get("deed")), _number(asked.get("hoop")), window)
            case "tear":
                work.tear(asked.get("bars"), asked.get("revision"), window)
            case "log":
                work.log(asked, window)
            case "undo":
                work.undo(window)
            case "redo":
                work.redo(window)
            case "keep":
                return {"file": work.keep()}
            case "file":
                work.take_file(window)
            case _:
                raise SpecError("page", (Problem("", "this page cannot do that"),))
        return {"revision": work.revision}

    def new(self, asked: dict[str, Any]) -> str:
        """Write a new net, from the starter, from a copy, or from tapes around hoops; gives its name."""
        title = str(asked.get("title", "")).strip()
        text = starter_spec(title)
        if source := asked.get("copy"):
            text = self.open(str(source)).with_title(title)
        elif tapes := _tapes(asked.get("tapes")):
            text = rewritten(text, _from_tapes(tapes))
        return self.folder.add(title, text)

    def text_of(self, name: str) -> tuple[str, Path] | None:
        """The text of a net as it is kept, with its place."""
        try:
            work = self.open(name)
        except NotHereError:
            return None
        return work.base, work.path

    def _ask(self, work: Work) -> None:
        self._solver.ask(Job(work.path.stem, work.revision, work.text, work.path))

    def _deliver(self, name: str, revision: int, stage: str, told: str) -> None:
        work = self._open.get(name)
        if work is not None and revision == work.revision:
            work.tell(stage, f'{{"revision": {revision}, "told": {told}}}')


def _texts(boxes: object) -> dict[str, str]:
    if not isinstance(boxes, dict) or len(boxes) > MOST_BOXES:
        raise SpecError("page", (Problem("", "no boxes were sent, or too many at once"),))
    return {str(key): str(text) for key, text in boxes.items()}


def _plain_changes(changes: object) -> dict[str, object]:
    if not isinstance(changes, dict) or len(changes) > MOST_BOXES:
        raise SpecError("page", (Problem("", "no changes were sent, or too many at once"),))
    return changes


def _number(given: object) -> int:
    return given if isinstance(given, int) else 0


def _tapes(given: object) -> list[str]:
    return [str(tape).strip() for tape in given if str(tape).strip()] if isinstance(given, list) else []


def _from_tapes(tapes: list[str]) -> dict[str, object]:
    """The starter with as many hoops as there are tapes, each as its tape says, and no throats."""
    hoops = [{"circumference": tape, "rod": "1/2", "material": "fibreglass"} for tape in tapes]
    deep = [6] * (len(tapes) - 1)
    return {"hoop": hoops, "sections": {"deep": deep}, "throat": None}
