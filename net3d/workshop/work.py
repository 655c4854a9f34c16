"""A net that is being worked on: its text, the steps to it, what its file holds, and what is told of it."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from net3d.errors import NetError, OutputError, Problem, SpecError
from net3d.shop.entries import entry_of
from net3d.spec.boxes import typed_in
from net3d.spec.edit import each_standing
from net3d.spec.keys import key_path
from net3d.spec.log import LOG
from net3d.spec.read import files_of, spec_beside, text_of
from net3d.spec.rewriting import rewritten
from net3d.spec.spec import NetSpec
from net3d.workshop.record import done_of, told_record
from net3d.workshop.refused import boxes_in, row_counts, unmoved
from net3d.workshop.row import row_changes
from net3d.workshop.steps import Steps
from net3d.workshop.tearing import torn_changes
from net3d.writers import drafts
from net3d.writers.file import write_file, write_new_file
from net3d.writers.log import add_entry

MOST_DRAFT = 16_000_000  # bytes: beyond that a draft is none of ours


class Work:
    """One net. Results come from another thread by ``tell``; all else is asked by one thread at a time."""

    def __init__(self, path: Path, ask: Callable[[Work], None]) -> None:
        """Read the file, or the draft that is left of it; what cannot be read as text raises SpecError."""
        self.path, self.ask = path, ask
        self.told: dict[str, tuple[int, str]] = {}  # kind: when, counted, and what
        self.ticks = self.revision = 0
        self.steps, self.window, self.foreign = Steps(), "", False
        self.refused: dict[str, str] = {}  # texts that would not do, by their boxes' keys
        self.wrong: list[dict[str, str]] = []  # with them
        self._counts: dict[str, int] = {}
        self._lock = threading.Lock()
        self.base = self.text = text_of(path, str(path))
        self._seen = self._new = {path: _stamp(path)}  # when the files it hangs on were changed last
        self._take_draft()
        self._renew()
        if self.refused:
            self._try_refused()

    def change(self, boxes: Mapping[str, str], window: str = "") -> None:
        """Type boxes' texts into the spec, those with them that would not do before.

        Raises SpecError where one will not do: that is remembered, and what is new is typed without it where
        that can be.
        """
        fresh = {key: text for key, text in boxes.items() if self.refused.get(key) != text}
        try:
            self._type(boxes, window)
        except SpecError as error:
            left = boxes
            if len(fresh) < len(boxes):
                with suppress(SpecError):
                    self._type(fresh, window)
                    left = {key: text for key, text in boxes.items() if key not in fresh}
            self._refuse(boxes_in(left), told_problems(error))
            raise
        if self.refused or self.wrong:
            self._refuse({}, [])

    def make(self, changes: Mapping[str, object], window: str = "") -> None:
        """Make changes by key, as a remedy has them. Raises SpecError as ``change`` does."""
        spec = self._sound()
        self._put(rewritten(self.text, changes, str(self.path), spec.source.shop), window)

    def _type(self, boxes: Mapping[str, str], window: str) -> None:
        self.make({key: typed_in(key, text) for key, text in boxes.items()}, window)

    def _refuse(self, texts: dict[str, str], wrong: list[dict[str, str]]) -> None:
        """Remember texts that would not do, and what is wrong with them."""
        self.refused, self.wrong = texts, wrong
        self._save_draft()
        self._tell_state()

    def with_title(self, title: str) -> str:
        """The text of a copy under another title. Raises SpecError where it will not do."""
        return rewritten(self.text, {"title": title}, str(self.path), self._sound().source.shop)

    def row(self, deed: str, hoop: int, window: str = "") -> None:
        """Do something to the row of hoops. Raises SpecError where it cannot be done."""
        self.make(row_changes(self._sound().source.typed, deed, hoop), window)
        if deed in ("up", "down", "about"):
            self._refuse(unmoved(self.refused, {"hoop": 0}, {"hoop": 1}), self.wrong)

    def undo(self, window: str = "") -> None:
        """Take the last step back."""
        self._step(self.steps.undo(self.text), window)

    def redo(self, window: str = "") -> None:
        """Take a step again that was taken back."""
        self._step(self.steps.redo(self.text), window)

    def tear(self, ends: object, revision: object, window: str = "") -> None:
        """Write a hole of bars marked in the net as it was seen. Raises SpecError as ``change``."""
        if revision != self.revision:
            raise SpecError("hole", (Problem("", "the net was changed meanwhile: mark its bars anew"),))
        self.make(torn_changes(self._sound(), ends), window)

    def log(self, asked: Mapping[str, Any], window: str = "") -> None:
        """Write into the net's record what was done; a hole that is whole again is taken out of the text.

        Raises SpecError, and writes nothing, where one of the boxes will not do.
        """
        spec, done = self._sound(), done_of(asked)
        entry, text = entry_of(spec, self.path.stem, done), self.text
        if done.hole:
            text = rewritten(text, {f"hole.{done.hole}": None}, str(self.path), spec.source.shop)
        record = self.path.with_name(LOG)
        if record.is_symlink():
            raise OutputError(f"{record}: is a link, and the page writes into its own folder alone")
        add_entry(record, entry)
        self._seen[record] = _stamp(record)
        if text != self.text:
            self._put(text, window)
        else:
            self._renew()

    def keep(self) -> str:
        """Write the text into the file, or, where that was changed meanwhile, beside it; gives the name."""
        there = self.path.read_bytes() if self.path.is_file() else None
        if there is None or there == self.base.encode():
            write_file(self.path, self.text.encode())
            self.base, self.foreign, self._seen = self.text, False, self._stamps()
            self._save_draft()
            self._tell_state()
            return self.path.name
        self.foreign = True
        beside = self._beside()
        self._tell_state()
        return beside

    def take_file(self, window: str = "") -> None:
        """Go on from what stands in the file, as a step that can be taken back."""
        self.base, self.foreign, self._seen = text_of(self.path, str(self.path)), False, self._stamps()
        self._put(self.base, window)

    def look(self) -> None:
        """See whether files were changed by others: taken over where nothing else is at stake.

        A file that is still being saved is let rest until the next look.
        """
        before, self._new = self._new, self._stamps()
        if self._new == self._seen or self._new != before:
            return
        shop, self._seen = self._new | {self.path: None} != self._seen | {self.path: None}, self._new
        if shop:
            self._renew()
        with suppress(SpecError):
            if text_of(self.path, str(self.path)) != self.base:
                self._changed_by_others()

    def _changed_by_others(self) -> None:
        if self.text == self.base:
            self.take_file()
        else:
            self.foreign = True
            self._tell_state()

    def tell(self, kind: str, payload: str) -> None:
        """Put news of a kind in the place of older news of it."""
        with self._lock:
            self.ticks += 1
            self.told[kind] = self.ticks, payload

    def news(self, since: int) -> list[tuple[int, str, str]]:
        """What was told since then, oldest first: when, kind, payload."""
        with self._lock:
            later = [(tick, kind, payload) for kind, (tick, payload) in self.told.items() if tick > since]
        return sorted(later)

    @property
    def draft(self) -> Path:
        """Where what is not kept yet is written: a hidden file beside the spec."""
        return self.path.with_name(f".{self.path.name}.draft")

    def _sound(self) -> NetSpec:
        if self.spec is None:
            what = "the spec in the file cannot be used: set it right in an editor first"
            raise SpecError(str(self.path), (Problem("", what),))
        return self.spec

    def _put(self, text: str, window: str) -> None:
        if text != self.text:
            self.steps.take(self.text, text)
        self._step(text, window)

    def _step(self, text: str, window: str) -> None:
        changed, self.text, self.window = text != self.text, text, window
        if changed:
            self._save_draft()
            self._renew()
        else:
            self._tell_state()

    def _renew(self) -> None:
        """Read the text anew and have it solved."""
        self.revision += 1
        files = (self.path, *files_of(self.path, self.text)[1:], self.path.with_name(LOG))
        self._seen = {file: self._seen.get(file, _stamp(file)) for file in files}
        self.spec: NetSpec | None = None
        self.problems: list[str] = []
        try:
            self.spec = spec_beside(self.text, self.path)
            counts = row_counts(self.spec.source.typed)
            self.refused = unmoved(self.refused, self._counts or counts, counts)
            self._counts = counts
        except SpecError as error:
            self.problems = [f"{_whose(error, self.path)}{problem}" for problem in error.problems]
        self._tell_state()
        if self.spec is not None:
            self.tell("record", json.dumps(told_record(self.spec, self.path)))
            self.ask(self)

    def _tell_state(self) -> None:
        state = {
            "revision": self.revision,
            "values": _standing(self.spec.source.typed) if self.spec else None,
            "undo": len(self.steps.taken),
            "redo": len(self.steps.undone),
            "kept": self.text == self.base,
            "foreign": self.foreign,
            "problems": self.problems,
            "window": self.window,
            "refused": self.refused,
            "wrong": self.wrong,
        }
        self.tell("state", json.dumps(state))

    def _beside(self) -> str:
        """Write the text as a new file beside the one that others changed."""
        for number in range(1, 1000):
            path = self.path.with_name(f"{self.path.stem}-mine{'' if number == 1 else f'-{number}'}.toml")
            if path.is_file() and path.read_bytes() == self.text.encode():
                return path.name
            with suppress(FileExistsError):
                write_new_file(path, self.text)
                return path.name
        raise OutputError(f"{self.path}: has a thousand copies beside it: move them away first")

    def _stamps(self) -> dict[Path, tuple[int, int] | None]:
        return {file: _stamp(file) for file in self._seen}

    def _save_draft(self) -> None:
        if self.draft.is_symlink() or (self.text == self.base and not self.refused):
            drafts.remove(self.draft)  # of a link, itself and not what it leads to
        if self.text == self.base and not self.refused:
            return
        content = {"base": self.base, "text": self.text, "refused": self.refused, **self.steps.plain()}
        with suppress(NetError):  # a folder that cannot be written to is told when it is to be kept
            write_file(self.draft, json.dumps(content, ensure_ascii=False))

    def _take_draft(self) -> None:
        """Go on from the draft of a server that was ended, if there is one that can be read."""
        with suppress(OSError, ValueError, KeyError, TypeError):
            if self.draft.is_symlink() or self.draft.stat().st_size > MOST_DRAFT:
                return
            left = json.loads(self.draft.read_text("utf-8"))
            steps, base, text = Steps.read(left), left["base"], left["text"]
            if isinstance(base, str) and isinstance(text, str):
                self.refused = boxes_in(left.get("refused"))
                if text != base:
                    self._go_on(steps, base, text)

    def _go_on(self, steps: Steps, base: str, text: str) -> None:
        """From a draft of a text that the file held; the file may have been changed since."""
        self.foreign = base != self.base
        self.steps, self.base, self.text = steps, base, text

    def _try_refused(self) -> None:
        """See what is wrong with texts of a draft; nothing is typed."""
        boxes, source = self.refused, self.spec.source if self.spec else None
        try:
            changes = {key: typed_in(key, text) for key, text in boxes.items()}
            rewritten(self.text, changes, str(self.path), source.shop if source else None)
        except SpecError as error:
            self.wrong = told_problems(error)
        self._tell_state()


def _whose(error: SpecError, path: Path) -> str:
    """The file that is at fault, where it is not the spec's own."""
    return "" if error.source == str(path) else f"{Path(error.source).name}, "


def _stamp(path: Path) -> tuple[int, int] | None:
    """When a file was changed last, and how long it is."""
    with suppress(OSError):
        state = path.stat()
        return state.st_mtime_ns, state.st_size
    return None


def told_problems(error: NetError) -> list[dict[str, str]]:
    """What is wrong, each with the key of its box where it has one."""
    if not isinstance(error, SpecError):
        return [{"key": "", "message": str(error)}]
    return [{"key": _dotted(problem.key), "message": problem.message} for problem in error.problems]


def _dotted(key: str) -> str:
    steps = (str(step + 1) if isinstance(step, int) else step for step in key_path(key) or ())
    return ".".join(step if step.replace("_", "").isalnum() else json.dumps(step) for step in steps)


def _standing(typed: Mapping[str, Any]) -> dict[str, Any]:
    """What is typed, with every hoop by itself."""
    one_by_one = {key: [table for table, _ in each_standing(key, typed[key])] for key in ("hoop",)}
    return {**typed, **one_by_one}
