"""Reading a spec: file, TOML, checked form, record; every problem at once."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path as FilePath
from typing import Any

from net3d.errors import Problem, SpecError
from net3d.spec.bulk import MAX_LETTERS, overfull, overlong
from net3d.spec.checked import checked_form
from net3d.spec.log import LOG, read_log
from net3d.spec.mistyped import Corrected, corrected
from net3d.spec.resolve import resolve
from net3d.spec.shop import NO_SHOP, SHOP, checked_shop, with_shop
from net3d.spec.spec import NetSpec, Source

MAX_BYTES = MAX_LETTERS
TOO_LARGE = "holds a number or a list too large to read"
# tomllib takes time in the square of the number of dotted keys: hours for a megabyte of them.
_TOO_DEEP = re.compile(r"""^[ \t\[]*(?:[^\s=#"'.]+[ \t]*\.[ \t]*){30}""", re.MULTILINE)
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_NOTHING_GIVEN = re.compile(r"=\s*([,}#]|$)")


def read_spec(path: str | FilePath) -> NetSpec:
    """Read and check a spec file.

    Parameters
    ----------
    path : a TOML file, UTF-8

    Raises
    ------
    SpecError
        With every problem of the file: its line, its key, what was given and what is allowed.
    """
    return checked(read_typed(path))


def read_typed(path: str | FilePath) -> Source:
    """What is typed in a file, and in the shop's beside it. Raises SpecError where it is no TOML."""
    return typed_beside(text_of(FilePath(path), str(path)), path)


def spec_beside(text: str, path: str | FilePath) -> NetSpec:
    """The spec of a text as if it stood in a file, with the shop's file beside that.

    Raises SpecError with every problem of the text.
    """
    return checked(typed_beside(text, path))


def typed_beside(text: str, path: str | FilePath) -> Source:
    """What is typed in a text, as if it stood in a file. Raises SpecError where it is no TOML."""
    source, text = str(path), text.removeprefix("\ufeff")
    typed = _tables_of(text, source)
    shop, shop_file = _shop_of(FilePath(path), typed)
    history = read_log(FilePath(path).with_name(LOG)).of(FilePath(path).stem)
    return Source(source, text, typed, shop, shop_file=shop_file, history=history)


def parse_spec(text: str, source: str = "spec", shop: Mapping[str, Any] | None = None) -> NetSpec:
    """Read and check the text of a spec.

    Parameters
    ----------
    text : TOML
    source : what to call it in messages
    shop : tables that are filled in where the spec does not say them

    Raises
    ------
    SpecError
        With every problem of the text.
    """
    text = text.removeprefix("\ufeff")
    return checked(Source(source, text, _tables_of(text, source), shop=shop or {}))


def checked(origin: Source) -> NetSpec:
    """The spec of what was typed. Raises SpecError with every problem of it."""
    if too_long := overlong(origin.typed):
        raise origin.refusal(too_long.items())
    form, faults = checked_form(with_shop(origin.typed, origin.shop))
    if faults:
        raise origin.refusal((fault.path, fault.message) for fault in faults)
    return resolve(form, origin)


def files_of(path: FilePath, text: str | None = None) -> tuple[FilePath, ...]:
    """The files that a net is read from: its spec, and the shop's file, which need not be there.

    Parameters
    ----------
    path : of the spec
    text : that is meant to stand there, if it is another
    """
    try:
        read = text_of(path, str(path)) if text is None else text
        file = _shop_file(path, _tables_of(read.removeprefix("\ufeff"), str(path)))
    except SpecError:
        file = path.with_name(SHOP)
    return (path,) if file is None else (path, file)


def _shop_file(path: FilePath, typed: Mapping[str, Any]) -> FilePath | None:
    """The shop's file that a spec names, or the one that may be beside it."""
    named = typed.get("shop")
    if named == NO_SHOP or not isinstance(named, str | None) or path.name == SHOP:
        return None
    return path.with_name(SHOP) if named is None else path.parent / named


def _shop_of(path: FilePath, typed: Mapping[str, Any]) -> tuple[Mapping[str, Any], tuple[str, str]]:
    """The tables of the shop's file that holds for a spec, its name and its text; empty without one."""
    file = _shop_file(path, typed)
    if file is None or ("shop" not in typed and not file.is_file()):
        return {}, ("", "")
    name = str(file)
    text = text_of(file, name).removeprefix("\ufeff")
    shop = _tables_of(text, name, spec=False)
    source = Source(name, text, shop)
    if too_long := overlong(shop):
        raise source.refusal(too_long.items())
    return checked_shop(source, typed), (name, text)


def correct_spec(path: str | FilePath) -> Corrected:
    """The text of a spec file with its mistyped lines as they should read.

    Raises SpecError where the file cannot be read as text.
    """
    source = str(path)
    return corrected(_bounded(text_of(FilePath(path), source), source).removeprefix("\ufeff"))


def text_of(path: FilePath, source: str) -> str:
    """The text of a file that may be a spec, to the letter. Raises SpecError where it cannot be one."""
    if path.is_dir():
        raise _refused(source, "is a folder; name the spec file itself")
    try:
        if path.exists() and not path.is_file():
            raise _refused(source, "is not a plain file")
        with path.open("rb") as file:
            content = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise _refused(source, "there is no such file; `net3d new NAME` writes one to start from") from None
    except (OSError, ValueError) as error:
        raise _refused(source, f"cannot be read: {getattr(error, 'strerror', None) or error}") from None
    return _decoded(content, source)


def _decoded(content: bytes, source: str) -> str:
    if len(content) > MAX_BYTES:
        raise _refused(source, f"is larger than {MAX_BYTES:,} bytes; a spec is a short text file")
    if b"\0" in content:
        raise _refused(source, "is not a text file; a spec is TOML text in UTF-8")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise _refused(source, "is not UTF-8 text; save the file as UTF-8", line) from None


def _tables_of(text: str, source: str, *, spec: bool = True) -> dict[str, Any]:
    """The tables of a spec, or of a shop's file."""
    _bounded(text, source)
    if too_deep := _TOO_DEEP.search(text):
        line = text.count("\n", 0, too_deep.start()) + 1
        raise _refused(source, "joins more than 30 keys by dots; no key of a spec stands that deep", line)
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(str(error), text, source, spec=spec) from None
    except (ValueError, RecursionError):
        raise _refused(source, TOO_LARGE) from None
    if not raw:
        raise _refused(source, "is empty; `net3d new NAME` writes a spec to start from")
    return raw


def _not_toml(said: str, text: str, source: str, *, spec: bool) -> SpecError:
    """All that is wrong with a text that is not TOML: mistyped lines, then what is wrong beside them."""
    meant = corrected(text)
    if not meant.problems:
        return _not_toml_here(said, text, source)
    try:
        tomllib.loads(meant.text)
        if spec:
            parse_spec(meant.text, source)
    except tomllib.TOMLDecodeError as error:
        others = _not_toml_here(str(error), meant.text, source)
    except SpecError as error:
        others = error
    except (ValueError, RecursionError):
        others = _refused(source, TOO_LARGE)
    else:
        return SpecError(source, meant.problems)
    return SpecError(source, (*meant.problems, *others.problems))


def _not_toml_here(said: str, text: str, source: str) -> SpecError:
    place = _TOML_PLACE.search(said)
    line = int(place[1]) if place and place[1] else text.count("\n") + 1
    what = said[: place.start()] if place else said
    if _NOTHING_GIVEN.search("".join(text.splitlines()[line - 1 : line])):
        what = 'nothing stands behind "=": give a value, or put # before the line to leave the key out'
    return _refused(source, f"this is not TOML: {what}", line)


def _refused(source: str, message: str, line: int | None = None) -> SpecError:
    return SpecError(source, (Problem("", message, line),))


def _bounded(text: str, source: str) -> str:
    if too_much := overfull(text):
        raise _refused(source, too_much)
    return text
