"""What an old write-up says, whether it is Markdown or Word: a title, paragraphs and pictures in their order.

This module owns the reading. Both kinds become HTML by a library of their own, and one reader takes that apart;
nothing of it is ever shown as HTML. What a project of words and photographs has no place for is told.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath
from urllib.parse import unquote, urlsplit

from handouts_build.disk.names import fault_of_path
from handouts_build.disk.reading import is_plain_folder, read_plain
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["WriteUp", "WrittenPicture", "read_write_up"]

_MOST_BYTES = 64 * 2**20
"""Of a write-up's file, and of a picture beside it."""
_MOST_UNPACKED = 256 * 2**20
"""Of all that is packed in a Word file."""
_MOST_TEXT = 2**20
"""Of a Markdown file: fifty times what a project may say."""
_MOST_PICTURES = 40
_KINDS = ((b"\xff\xd8\xff", ".jpg"), (b"\x89PNG\r\n\x1a\n", ".png"), (b"RIFF", ".webp"))
_BLOCKS = {"p", "li", "h1", "h2", "h3", "h4", "h5", "h6", "pre", "tr", "dt", "dd"}
_STRESSED = {"em", "i", "strong", "b", "h2", "h3", "h4", "h5", "h6"}


@dataclass(frozen=True)
class WrittenPicture:
    """A picture of a write-up."""

    content: bytes
    ending: str
    """Of its file, such as `.jpg`."""
    shows: str
    """What it shows, in the words of whoever wrote it; empty for none."""


@dataclass
class WriteUp:
    """What was found."""

    title: str = ""
    """Empty where it has none."""
    date: str = ""
    """As it says it itself; empty where it says none."""
    paragraphs: list[str] = field(default_factory=list)
    """Each in one line, with what is stressed between stars."""
    pictures: list[WrittenPicture] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    """What has no place in a project, or could not be read: a line each."""


def read_write_up(path: Path) -> WriteUp:
    """Read a write-up.

    Args:
        path: A Markdown file (`.md`, `.markdown`, `.txt`) or a Word file (`.docx`).

    Raises:
        ProjectError: If it is of another kind, or cannot be read.
    """
    kind = path.suffix.lower()
    try:
        if kind in (".md", ".markdown", ".txt"):
            return _of_markdown(path)
        if kind == ".docx":
            return _of_word(path)
    except OSError as error:
        raise _refused(path, f"it cannot be read: {error.strerror}") from None
    raise _refused(path, "this is no kind of write-up that is known", "give a .docx, .md or .txt file")


def _refused(path: Path, message: str, hint: str = "") -> ProjectError:
    return ProjectError([Problem(Place(path.as_posix()), message, hint)])


def _of_markdown(path: Path) -> WriteUp:
    from markdown_it import MarkdownIt

    try:
        text = read_plain(path, most_bytes=_MOST_TEXT).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _refused(path, f"it is not UTF-8 text (byte {error.start})", "save it again as UTF-8") from None
    head, text = _parted(text)
    found = WriteUp(title=head.get("title", ""), date=head.get("date", ""))
    if names := sorted(set(head) - {"title", "date"}):
        found.left.append(f"what stands at its head: {', '.join(names)}")

    def beside(address: str) -> bytes:
        return _picture_beside(path.parent, address)

    return _filled(found, MarkdownIt("commonmark", {"html": False}).enable("table").render(text), beside)


def _parted(text: str) -> tuple[Mapping[str, str], str]:
    """The lines `name: value` between rows of three hyphens at the head of a text, and what follows."""
    match = re.match(r"---[ \t]*\r?\n(.*?)\r?\n---[ \t]*(?:\r?\n|$)", text, re.DOTALL)
    if match is None:
        return {}, text
    lines = (re.fullmatch(r"(\w[\w -]*):\s*(.*)", line) for line in match[1].splitlines())
    return {line[1].lower(): line[2].strip().strip("\"'") for line in lines if line is not None}, text[match.end() :]


def _picture_beside(folder: Path, address: str) -> bytes:
    """A picture in the folder of a write-up, or below it.

    Raises:
        ValueError: If the address leads elsewhere.
        OSError: If it cannot be read.
    """
    if urlsplit(address).scheme or address.startswith("//"):
        raise ValueError("it is on another host, and nothing is fetched")
    inside = PurePosixPath(unquote(address.partition("?")[0]).replace("\\", "/"))
    if fault := fault_of_path(inside.as_posix()):
        raise ValueError(fault)
    place = folder
    for name in inside.parts[:-1]:
        place /= name
        if not is_plain_folder(place):
            raise ValueError(f"'{name}' is no folder beside the write-up")
    return read_plain(place / inside.name, most_bytes=_MOST_BYTES)


def _of_word(path: Path) -> WriteUp:
    import mammoth

    content = read_plain(path, most_bytes=_MOST_BYTES)
    held: list[bytes] = []

    def keep(image: mammoth.documents.Image) -> Mapping[str, str]:
        with image.open() as opened:
            held.append(opened.read(_MOST_BYTES))
        return {"src": str(len(held) - 1)}

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            if sum(entry.file_size for entry in packed.infolist()) > _MOST_UNPACKED:
                raise _refused(path, f"it unpacks to more than {_MOST_UNPACKED // 2**20} MB")
        made = mammoth.convert_to_html(io.BytesIO(content), convert_image=mammoth.images.img_element(keep))
    except ProjectError:
        raise
    except Exception as error:  # whatever a file that is no Word file makes of a reader of Word files
        message = f"this is no Word file that can be read ({type(error).__name__})"
        raise _refused(path, message, "open it in the program it is from, and save it again as .docx") from None
    found = _filled(WriteUp(), made.value, lambda number: held[int(number)])
    for text in dict.fromkeys(str(message.message) for message in made.messages):
        if "style" not in text:
            found.left.append(text[0].lower() + text[1:])
    return found


def _filled(found: WriteUp, html: str, picture: Callable[[str], bytes]) -> WriteUp:
    """Take HTML apart into what a project has places for.

    Args:
        found: Where it goes.
        html: Made by a library, or of whatever a write-up holds.
        picture: Gives what an address of a picture stands for; raises ValueError or OSError where there is none.
    """
    reader = _Extractor(found, picture)
    reader.feed(html)
    reader.close()
    reader.end_block()
    if reader.rows:
        found.left.append(f"the form of its tables: {reader.rows} rows are lines of text now")
    return found


class _Extractor(HTMLParser):
    """Paragraphs and pictures of HTML, in their order."""

    def __init__(self, found: WriteUp, picture: Callable[[str], bytes]) -> None:
        super().__init__(convert_charrefs=True)
        self.rows = 0
        self._found = found
        self._picture = picture
        self._pieces: list[str] = []
        self._lists: list[int | None] = []
        """The number of the last item of each list that is open; None where items have no numbers."""
        self._stressed = 0
        self._link = ""
        self._title = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        if tag in _BLOCKS and not (tag == "p" and self._lists and not "".join(self._pieces).strip(" –.0123456789")):
            self.end_block()
        if tag in ("ul", "ol"):
            self.end_block()
            self._lists.append(0 if tag == "ol" else None)
        elif tag == "li" and self._lists:
            last = self._lists[-1]
            self._lists[-1] = None if last is None else last + 1
            self._pieces.append("– " if last is None else f"{last + 1}. ")
        elif tag == "h1":
            self._title = not self._found.title
        elif tag in ("td", "th") and "".join(self._pieces).strip():
            self._pieces.append(" | ")
        elif tag == "br":
            self._pieces.append(" ")
        elif tag == "img":
            self._take(values.get("src", ""), values.get("alt", ""))
        elif tag == "a":
            self._link = values.get("href", "")
        elif tag == "tr":
            self.rows += 1
        if tag in _STRESSED or (tag == "h1" and not self._title):
            self._stressed += 1
            self._star(opens=True)

    def handle_endtag(self, tag: str) -> None:
        if tag in _STRESSED or (tag == "h1" and not self._title):
            self._star(opens=False)
            self._stressed = max(0, self._stressed - 1)
        if tag == "a" and self._link:
            if urlsplit(self._link).scheme in ("http", "https", "mailto") and self._link not in "".join(self._pieces):
                self._pieces.append(f" ({self._link})")
            self._link = ""
        if tag in _BLOCKS:
            self.end_block()
        elif tag in ("ul", "ol") and self._lists:
            self.end_block()
            self._lists.pop()

    def handle_data(self, data: str) -> None:
        self._pieces.append(_plain(data))

    def _star(self, *, opens: bool) -> None:
        """A star where stress begins or ends; stress within stress is none."""
        if self._stressed == 1:
            self._pieces.append("\x02" if opens else "\x03")

    def end_block(self) -> None:
        """What was read since the last block is one."""
        text = " ".join("".join(self._pieces).split())
        self._pieces = []
        text = re.sub(r"\x02\s*(.*?)\s*\x03", lambda found: f" *{found[1]}* " if found[1] else " ", text)
        text = re.sub(r"\s+([.,;:!?)])", r"\1", " ".join(re.sub(r"[\x02\x03]", "", text).split()))
        if self._title:
            self._title = False
            self._found.title = text.replace("*", "")
        elif text.strip("–.* 0123456789"):
            self._found.paragraphs.append(text)

    def _take(self, address: str, shows: str) -> None:
        """Keep a picture, or say why there is none."""
        called = address if len(address) < 60 else f"{address[:57]}…"
        if len(self._found.pictures) >= _MOST_PICTURES:
            self._found.left.append(f"a picture: {_MOST_PICTURES} are taken at the most")
            return
        try:
            content = self._picture(address)
        except ValueError as error:
            self._found.left.append(f"the picture {called}: {error}")
        except OSError as error:
            self._found.left.append(f"the picture {called}: it cannot be read ({error.strerror})")
        else:
            ending = next((ending for signs, ending in _KINDS if content.startswith(signs)), "")
            if ending:
                self._found.pictures.append(WrittenPicture(content, ending, " ".join(_plain(shows).split())[:160]))
            else:
                self._found.left.append(f"the picture {called}: it is no JPEG, PNG or WebP")


def _plain(text: str) -> str:
    """Text without the signs that mean something in a project's words."""
    text = re.sub(r"(?<=\d)\s*\*\s*(?=\d)", "\N{MULTIPLICATION SIGN}", text).replace("*", "")
    text = text.translate({ord("{"): "(", ord("}"): ")"})
    text = re.sub(r"<(?=[A-Za-z/!?])", "< ", text)
    text = re.sub(r"#(?=[A-Za-z_])", "# ", text)
    return "".join(sign if sign.isprintable() or sign in "\n\t" else " " for sign in text)
