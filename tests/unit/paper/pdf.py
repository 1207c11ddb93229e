"""A small reader for the reports' own PDFs: words of each page, attachments, tags."""

import re
import zlib


class Pdf:
    """What the tests ask of a PDF whose objects lie open."""

    def __init__(self, data: bytes) -> None:
        found = re.finditer(rb"(\d+) 0 obj\n(.*?)\nendobj", data, re.DOTALL)
        self._objects = {int(one[1]): one[2] for one in found}
        self.catalog = next(one for one in self._objects.values() if b"/Type/Catalog" in one)

    def _ref(self, body: bytes, key: bytes) -> int:
        found = re.search(rb"/" + key + rb" (\d+) 0 R", body)
        assert found, key
        return int(found[1])

    def _stream(self, number: int) -> bytes:
        head, _, rest = self._objects[number].partition(b"stream\n")
        body = rest.rsplit(b"\nendstream", 1)[0]
        return zlib.decompress(body) if b"FlateDecode" in head else body

    @property
    def pages(self) -> list[str]:
        """The words of each page, in the order in which they are set."""
        tree = self._objects[self._ref(self.catalog, b"Pages")]
        kids = re.search(rb"/Kids\[([^\]]*)\]", tree)
        assert kids
        return [self._words(int(one)) for one in re.findall(rb"(\d+) 0 R", kids[1])]

    @property
    def is_tagged(self) -> bool:
        """Whether it says that it is tagged, and has a tree of tags."""
        return b"/Marked true" in self.catalog and b"/StructTreeRoot" in self.catalog

    @property
    def metadata(self) -> str:
        """The metadata, which name the standards it claims."""
        return self._stream(self._ref(self.catalog, b"Metadata")).decode()

    @property
    def attachments(self) -> list[bytes]:
        """Attached files, byte for byte."""
        return [
            self._stream(number)
            for number, body in self._objects.items()
            if b"/Type/EmbeddedFile" in body
        ]

    def _words(self, page: int) -> str:
        body = self._objects[page]
        resources = self._objects[self._ref(body, b"Resources")]
        fonts = {
            name: self._letters(int(number))
            for name, number in re.findall(rb"/(f\d+) (\d+) 0 R", resources)
        }
        words = []
        content = self._stream(self._ref(body, b"Contents"))
        content = re.sub(rb"/Span<</ActualText<[0-9A-F]*>>>BDC", b"", content)
        for block in re.findall(rb"BT(.*?)ET\n", content, re.DOTALL):
            name = re.search(rb"/(f\d+) [\d.]+ Tf", block)
            assert name
            words.append("".join(fonts[name[1]].get(code, "") for code in _codes(block)))
        return re.sub(r"[\s\u00a0]+", " ", " ".join(words)).replace("\u200b", "")

    def _letters(self, font: int) -> dict[int, str]:
        cmap = self._stream(self._ref(self._objects[font], b"ToUnicode"))
        letters = {}
        for code, text in re.findall(rb"<([0-9A-F]{4})> <([0-9A-F]+)>\n", cmap):
            letters[int(code, 16)] = bytes.fromhex(text.decode()).decode("utf-16-be")
        return letters


_ESCAPES = {
    b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f",
    b"(": b"(", b")": b")", b"\\": b"\\",
}  # fmt: skip


def _codes(block: bytes) -> list[int]:
    """Two-byte codes of all strings in a text block."""
    codes: list[int] = []
    for literal, hexed in re.findall(rb"\(((?:\\.|[^\\()])*)\)|<([0-9A-Fa-f]+)>", block, re.DOTALL):
        raw = bytes.fromhex(hexed.decode()) if hexed else _unescaped(literal)
        codes += [int.from_bytes(raw[at : at + 2], "big") for at in range(0, len(raw), 2)]
    return codes


def _unescaped(literal: bytes) -> bytes:
    def one(found: re.Match[bytes]) -> bytes:
        token = found[1]
        return bytes([int(token, 8)]) if token[:1].isdigit() else _ESCAPES[token]

    return re.sub(rb"\\([0-7]{1,3}|.)", one, literal, flags=re.DOTALL)
