"""A design in a notebook: well-formed, escaped, with its picture and what the checks found."""

from base64 import b64decode
from html.parser import HTMLParser
from io import BytesIO

from PIL import Image

import net3d
from net3d.spec import parse_spec
from tests.commands.conftest import SMALL_NET


class Card(HTMLParser):
    """What an unrelated parser finds: open elements, the words, the picture."""

    def __init__(self, text):
        super().__init__()
        self.open, self.words, self.pictures = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        """Note an element, or a picture."""
        if tag == "img":
            self.pictures.append(dict(attrs)["src"])
        else:
            self.open.append(tag)

    def handle_endtag(self, tag):
        """See that it is the last one opened."""
        assert self.open.pop() == tag

    def handle_data(self, data):
        """Note the words."""
        self.words.append(data)


def test_a_design_shows_itself():
    design = net3d.design(parse_spec(SMALL_NET.replace("Small net", "Net <b>7</b>")))
    card = Card(design._repr_html_())
    assert card.open == []
    assert card.words[0] == "Net <b>7</b>"
    assert any(word.startswith(design.spec.tape.length(design.shape.length)) for word in card.words)
    odd = [finding for finding in design.findings if finding.level.value != "ok"]
    assert all(any(finding.message in word for word in card.words) for finding in odd)
    assert f"{len(design.findings) - len(odd)} of {len(design.findings)} checks are fine." in card.words
    (source,) = card.pictures
    with Image.open(BytesIO(b64decode(source.partition(",")[2]))) as picture:
        assert picture.width >= 640
