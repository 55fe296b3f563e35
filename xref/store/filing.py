"""Which file holds which document: told by content, named for answers, and what became of it since.

Everything here only looks; `Index.refile` and the pipeline do what is planned.
"""

from __future__ import annotations

import hashlib
import os
import time
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote, unquote_to_bytes

from xref.errors import UsageError
from xref.records import Document

#: A file touched so shortly before it was looked at may change again within one tick of its clock;
#: FAT keeps times to 2 s, the coarsest in use.
_RECENT_NS = 2_500_000_000
#: Mark of a stamp that is not to be trusted for that reason.
_UNSURE = "?"
#: Before a path whose bytes are no text; a resolved path never begins so.
_BYTES = "bytes:"


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundFile:
    """A PDF as it lies there now."""

    path: Path  #: as found
    where: Path  #: resolved: what tells files apart
    stamp: str  #: size and times; `file_stamp`
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A document whose file lies elsewhere, or is called otherwise, than when it was read."""

    old_name: str
    name: str
    path: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """A file with the content of a document that is indexed from another file."""

    path: str
    document: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ToRead:
    """A file whose content is new, or was read by another version of the reader."""

    file: FoundFile
    name: str
    changed: bool = False  #: the document of this name had other content


@dataclass(frozen=True, slots=True, kw_only=True)
class Filing:
    """What is to be done so that the index holds what the files hold."""

    to_read: tuple[ToRead, ...]
    unchanged: tuple[str, ...]  #: names of documents that are read already
    moves: tuple[Move, ...]
    copies: tuple[Copy, ...]
    gone: tuple[str, ...]  #: documents whose file was deleted, or now holds another document
    away: tuple[str, ...]  #: documents whose whole folder is not there, as with a drive that is unplugged


def find_pdfs(paths: Iterable[Path]) -> Iterator[Path]:
    """Yield the PDFs named or lying in the folders named, each once, in a stable order."""
    seen: set[Path] = set()
    for path in paths:
        if not _exists(path):
            raise UsageError(f"{path} does not exist.", hint="Give a PDF file or a folder that holds PDFs.")
        found = sorted(p for p in path.rglob("*") if p.suffix.lower() == ".pdf") if path.is_dir() else [path]
        for file in found:
            real = file.resolve()
            if real not in seen and file.is_file():
                seen.add(real)
                yield file


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name longer than the system allows, or one with a NUL
        return False


def file_hash(path: Path) -> str:
    """Return the SHA-256 of a file's content."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def file_stamp(path: Path) -> str:
    """Return size and times of a file: as long as these stay, so does its content."""
    status = path.stat()
    latest = max(status.st_mtime_ns, status.st_ctime_ns)
    sure = "" if time.time_ns() - latest > _RECENT_NS else _UNSURE
    return f"{status.st_size}:{status.st_mtime_ns}:{status.st_ctime_ns}{sure}"


def same_stamp(one: str, other: str) -> bool:
    """Say whether two looks at a file saw the same size and times."""
    return one.rstrip(_UNSURE) == other.rstrip(_UNSURE)


def look_at(path: Path, known: Mapping[str, tuple[str, str]]) -> FoundFile:
    """Return the file with its hash, which is not reckoned again where size and times stayed the same.

    `known` maps a resolved path to stamp and hash. Raises OSError where the file cannot be read.
    """
    where = path.resolve()
    stamp = file_stamp(where)
    before, sha256 = known.get(str(where), ("", ""))
    if stamp != before or _UNSURE in stamp:
        sha256 = file_hash(where)
    return FoundFile(path=path, where=where, stamp=stamp, sha256=sha256)


def plan_filing(
    files: Sequence[FoundFile],
    documents: Sequence[Document],
    given: Sequence[Path],
    known: Mapping[str, tuple[str, str]],
    reader: str,
) -> Filing:
    """Compare the files found with the documents of their machine.

    `given` are the paths that were looked through, `known` all files ever seen (resolved path to stamp
    and hash), `reader` the version of the reader that reads now.
    """
    plan = _Plan(files, documents, given, known)
    for document in documents:
        plan.place(document)
    plan.find_homes()
    return plan.filing(reader)


class _Plan:
    """The state of one comparison: which file is the home of which content."""

    def __init__(
        self,
        files: Sequence[FoundFile],
        documents: Sequence[Document],
        given: Sequence[Path],
        known: Mapping[str, tuple[str, str]],
    ) -> None:
        self._documents = documents
        self._given = [path.resolve() for path in given]
        self._known = known
        self._at = {str(file.where): file for file in files}
        self._by_content: dict[str, list[FoundFile]] = {}
        for file in files:
            self._by_content.setdefault(file.sha256, []).append(file)
        self._kept: dict[str, Document] = {}  # content -> its document
        self._homes: dict[str, FoundFile] = {}  # content -> the file it is to be read from, where looked at
        self._changed: dict[str, Document] = {}  # path -> the document that was there with other content
        self._moved: dict[str, tuple[Document, Path]] = {}  # name -> document and its new path
        self._gone: list[str] = []
        self._away: list[str] = []

    def place(self, document: Document) -> None:
        """Decide where one document of the index lives now."""
        sha256, path = document.sha256, Path(document.path)
        found = self._by_content.get(sha256, [])
        here = self._at.get(document.path)
        if sha256 in self._kept:
            self._gone.append(document.name)
        elif here is not None and here.sha256 == sha256:
            self._kept[sha256], self._homes[sha256] = document, here
        elif here is None and path.is_file() and (not found or _content(path) == sha256):
            self._kept[sha256] = document  # not looked at in this run, or its copies were
        elif found:
            self._kept[sha256], self._homes[sha256] = document, found[0]
            self._moved[document.name] = (document, found[0].where)
        elif here is not None:
            self._changed[document.path] = document
        elif (copy := self._known_copy(sha256)) is not None:
            self._kept[sha256] = document
            self._moved[document.name] = (document, copy)
        elif path.parent.is_dir() or any(path.is_relative_to(given) for given in self._given):
            self._gone.append(document.name)
        else:
            self._kept[sha256] = document
            self._away.append(document.name)

    def find_homes(self) -> None:
        """Give content that is in no document the file it is read from: a changed document's own first."""
        for sha256, files in self._by_content.items():
            if sha256 not in self._kept:
                changed = [file for file in files if str(file.where) in self._changed]
                self._homes[sha256] = (changed or files)[0]
        homes = {str(file.where) for file in self._homes.values()}
        self._gone += [doc.name for path, doc in self._changed.items() if path not in homes]

    def filing(self, reader: str) -> Filing:
        """Name what is new or moved, and put it all together."""
        names = self._names()
        to_read, unchanged, copies = [], [], []
        for sha256, files in self._by_content.items():
            kept, home = self._kept.get(sha256), self._homes.get(sha256)
            name = names[sha256]
            changed = kept is None and home is not None and str(home.where) in self._changed
            if home is not None and (kept is None or kept.reader != reader):
                to_read.append(ToRead(file=home, name=name, changed=changed))
            else:
                unchanged.append(name)
            copies += [Copy(path=str(file.path), document=name) for file in files if file is not home]
        order = {file.sha256: n for n, file in reversed(list(enumerate(self._at.values())))}
        moves = [
            Move(old_name=old, name=names[document.sha256], path=str(path))
            for old, (document, path) in self._moved.items()
        ]
        return Filing(
            to_read=tuple(sorted(to_read, key=lambda job: order[job.file.sha256])),
            unchanged=tuple(unchanged),
            moves=tuple(moves),
            copies=tuple(copies),
            gone=tuple(self._gone),
            away=tuple(self._away),
        )

    def _names(self) -> dict[str, str]:
        """Return the name of each content; a document that stayed where it was keeps the one it has."""
        names = {
            sha: document.name for sha, document in self._kept.items() if document.name not in self._moved
        }
        homes = {sha: file.where for sha, file in self._homes.items() if sha not in names}
        homes |= {document.sha256: path for document, path in self._moved.values()}
        for sha256, path in list(homes.items()):
            if str(path) in self._changed and sha256 not in self._kept:
                names[sha256] = self._changed[str(path)].name
                del homes[sha256]
        return names | names_of_files(homes, set(names.values()))

    def _known_copy(self, sha256: str) -> Path | None:
        for where, (stamp, content) in self._known.items():
            path = Path(where)
            if content == sha256 and path.is_file() and same_stamp(stamp, file_stamp(path)):
                return path
        return None


def _content(path: Path) -> str:
    try:
        return file_hash(path)
    except OSError:
        return ""


def names_of_files(paths: Mapping[str, Path], taken: Iterable[str]) -> dict[str, str]:
    """Return what answers call each file: its name, with as many of its folders as tell it apart.

    A name is put together as one writes it (Unicode NFC), whichever way the disk keeps it.
    """
    used = set(taken)
    names: dict[str, str] = {}
    depth = 1
    todo = dict(paths)
    while todo:
        shown = {key: _shown(path, depth) for key, path in todo.items()}
        counts = Counter(shown.values())
        for key, name in shown.items():
            whole = depth >= len(todo[key].parts)
            if counts[name] == 1 and name not in used:
                names[key] = name
            elif whole:  # two spellings of one path that look the same
                number = 2
                while f"{name} ({number})" in used | set(names.values()):
                    number += 1
                names[key] = f"{name} ({number})"
        used |= set(names.values())
        todo = {key: path for key, path in todo.items() if key not in names}
        depth += 1
    return names


def _shown(path: Path, depth: int) -> str:
    parts = [os.fsencode(part).decode("utf-8", "backslashreplace") for part in path.parts[-depth:]]
    return unicodedata.normalize("NFC", "/".join(part.rstrip("/") for part in parts))


def path_to_text(path: str) -> str:
    """Return a path as the index keeps it: a name whose bytes are no text is kept byte by byte."""
    try:
        path.encode("utf-8")
    except UnicodeEncodeError:
        return _BYTES + quote(os.fsencode(path))
    return path


def text_to_path(text: str) -> str:
    """Return the path that `path_to_text` was given."""
    return os.fsdecode(unquote_to_bytes(text[len(_BYTES) :])) if text.startswith(_BYTES) else text
