"""From what a maker has to a net: a wanted list in boxes, the search for nets of it, one to work on."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from net3d.errors import OutputError, Problem, SpecError
from net3d.spec.boxes import typed_in, wanted_schema_once
from net3d.spec.read import text_of
from net3d.spec.wanted import Wanted, wanted_beside
from net3d.spec.wanted_text import STARTER, changed
from net3d.workshop.folder import Folder
from net3d.workshop.proposing import Search
from net3d.workshop.work import told_problems
from net3d.writers.file import write_file

LONGEST = 600.0  # s that a search may be asked to take
MOST_BOXES = 500  # changed at once
OTHER = "Another search was begun: look once more."


class Wanting:
    """The wanted lists of a folder, and one search at a time. A page holds the text that it works on."""

    def __init__(self, folder: Folder) -> None:
        self.folder = folder
        self.search: Search | None = None
        self.number = 0  # of the search

    def opened(self, name: str) -> dict[str, Any]:
        """What a page begins with: a list of the folder, or one to begin with where no name is given.

        Raises NotHereError for a name that is no list of the folder, SpecError where it is no text.
        """
        path = self._path(name)
        text = text_of(path, str(path)) if name else STARTER
        return {"name": name, **self._read(text, name)}

    def do(self, deed: str, asked: dict[str, Any]) -> dict[str, Any]:
        """Do what a page asks. Raises NetError where it cannot be done."""
        name, text = str(asked.get("name", "")), str(asked.get("text", ""))
        match deed:
            case "change":
                return self._changed(text, asked.get("boxes"), name)
            case "keep":
                return self._kept(text, str(asked.get("base", "")), name)
            case "look":
                return self._looked(text, asked.get("seconds"), name)
            case "stop" if self.search:
                self.search.stop()
                return {}
            case "begin":
                return {"name": self._begun(asked.get("search"), asked.get("net"))}
        raise SpecError("page", (Problem("", "this page cannot do that"),))

    def told(self, number: int, since: int) -> dict[str, Any]:
        """How far a search is, and what it found where that is newer than what was shown."""
        if self.search is None or number != self.number:
            return {"said": OTHER, "over": True, "wrong": True, "tick": since}
        search, tick = self.search, self.search.tick
        told = search.told if tick > since else {}
        nets = [{key: one[key] for key in one if key != "text"} for one in told.get("nets", ())]
        state = {"said": search.said, "over": search.over, "wrong": search.wrong, "tick": tick}
        return {**state, **({"found": {**told, "nets": nets}} if told else {})}

    def close(self) -> None:
        """End the search."""
        if self.search is not None:
            self.search.close()

    def _changed(self, text: str, boxes: object, name: str) -> dict[str, Any]:
        """The text with boxes typed into it; one that was unsound may stay so, none becomes so."""
        if not isinstance(boxes, dict) or len(boxes) > MOST_BOXES:
            raise SpecError("page", (Problem("", "no boxes were sent, or too many at once"),))
        schema = wanted_schema_once()
        typed = {key: None if box is None else typed_in(key, str(box), schema) for key, box in boxes.items()}
        new = changed(text, typed)
        self._sound(new, name)
        return self._read(new, name)

    def _kept(self, text: str, base: str, name: str) -> dict[str, Any]:
        """Write a list into its file; where it has none, or others changed it, into a new one."""
        wanted, path = self._sound(text, name), self._path(name)
        if name and path.is_file() and path.read_bytes() == base.encode():
            write_file(path, text.encode())
            return {"name": name, "file": path.name}
        name = self.folder.add(wanted.form.title, text)
        return {"name": name, "file": f"{name}.toml"}

    def _looked(self, text: str, seconds: object, name: str) -> dict[str, Any]:
        self._sound(text, name)
        if not isinstance(seconds, int | float) or not 1 <= seconds <= LONGEST:
            raise SpecError("page", (Problem("", f"look for 1 to {LONGEST:.0f} seconds"),))
        self.close()
        self.number += 1
        self.search = Search(text, self._path(name), float(seconds))
        return {"search": self.number}

    def _begun(self, search: object, net: object) -> str:
        """Write a proposal as a new net of the folder; gives its name."""
        nets = self.search.told["nets"] if self.search and search == self.number else []
        if not isinstance(net, int) or not 0 <= net < len(nets):
            raise OutputError("This proposal is no longer there: look once more.")
        return self.folder.add(nets[net]["title"], nets[net]["text"])

    def _read(self, text: str, name: str) -> dict[str, Any]:
        try:
            values, problems = dict(self._sound(text, name).source.typed), []
        except SpecError as error:
            values, problems = None, told_problems(error)
        return {"text": text, "values": values, "problems": problems}

    def _sound(self, text: str, name: str) -> Wanted:
        return wanted_beside(text, self._path(name))

    def _path(self, name: str) -> Path:
        return self.folder.list_path(name) if name else self.folder.root / "a new list.toml"
