"""Reads a sheet's PDF back: its words, every size of letter in points and where it stands, boxes in mm, colours."""

import io
from dataclasses import dataclass, field

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 72 / 25.4
Matrix = tuple[float, float, float, float, float, float]
PLAIN: Matrix = (1, 0, 0, 1, 0, 0)


@dataclass
class Page:
    width: float
    height: float
    text: str
    letters: list[tuple[float, float, float]] = field(default_factory=list)  # points, x, y
    boxes_mm: list[tuple[float, float]] = field(default_factory=list)
    colours: set[tuple[float, ...]] = field(default_factory=set)
    sizes: dict[str, float] = field(default_factory=dict)  # points of the plain text, by line

    @property
    def smallest(self) -> float:
        return min(size for size, _, _ in self.letters)


def read(pdf: bytes) -> list[Page]:
    reader = PdfReader(io.BytesIO(pdf))
    return [_read(page, reader) for page in reader.pages]


def _read(source, reader: PdfReader) -> Page:
    sizes: dict[str, float] = {}

    def text(words, matrix, text_matrix, font, size):
        if words.strip() and matrix[3] < 0 and abs(matrix[0] - 0.75) < 1e-6:
            sizes[words.strip()] = round(abs(size * text_matrix[3] * matrix[3]), 1)

    words = source.extract_text(visitor_text=text)
    page = Page(float(source.mediabox.width), float(source.mediabox.height), words, sizes=sizes)
    _Reader(page).run(ContentStream(source.get_contents(), reader))
    return page


class _Reader:
    """Follows the drawing operators that move, letter and fill."""

    def __init__(self, page: Page) -> None:
        self.page, self.now, self.kept = page, PLAIN, []
        self.text, self.size = PLAIN, 0.0

    def run(self, stream: ContentStream) -> None:
        for operands, operator in stream.operations:
            self.step(operator, operands)

    def step(self, operator: bytes, operands: list) -> None:
        if operator == b"q":
            self.kept.append(self.now)
        elif operator == b"Q":
            self.now = self.kept.pop()
        elif operator == b"cm":
            self.now = _times(tuple(map(float, operands)), self.now)
        elif operator == b"Tf":
            self.size = float(operands[1])
        elif operator == b"Tm":
            self.text = tuple(map(float, operands))
        elif operator in (b"Tj", b"TJ"):
            whole = _times(self.text, self.now)
            size = abs(self.size) * (whole[2] ** 2 + whole[3] ** 2) ** 0.5
            self.page.letters.append((round(size, 1), whole[4], whole[5]))
        elif operator == b"re":
            wide, high = (abs(float(v)) for v in operands[2:4])
            across, down = (self.now[0] ** 2 + self.now[1] ** 2) ** 0.5, (self.now[2] ** 2 + self.now[3] ** 2) ** 0.5
            self.page.boxes_mm.append((round(wide * across / MM, 1), round(high * down / MM, 1)))
        elif operator in (b"rg", b"RG", b"g", b"G"):
            self.page.colours.add(tuple(round(float(v), 3) for v in operands))


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )
