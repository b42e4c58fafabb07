"""What a browser would take from one of our HTML documents."""

from html.parser import HTMLParser


class Reader(HTMLParser):
    """What a browser would take from the page: tags, headings, pictures, ids, and the words outside scripts."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self._inside: list[str] = []

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))
        if tag in ("script", "style"):
            self._inside.append(tag)

    def handle_endtag(self, tag):
        if self._inside and self._inside[-1] == tag:
            self._inside.pop()

    def handle_data(self, data):
        if not self._inside:
            self.words.append(data)

    def named(self, tag):
        return [attributes for name, attributes in self.tags if name == tag]

    @property
    def text(self):
        return " ".join(" ".join(self.words).split())


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    return reader
