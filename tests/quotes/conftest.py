import pytest

from contractor.company.models import Staff
from estimating.quotes.documents import paper, shop_paper
from tests.quotes.making import the_shop


@pytest.fixture
def owner(db) -> Staff:
    """The owner of a firm with a catalogue."""
    return the_shop()


@pytest.fixture
def quick_press(monkeypatch) -> None:
    """Papers that are their own HTML: for tests about what becomes of a quote, not about how it looks."""
    for module in (paper, shop_paper):
        monkeypatch.setattr(module, "render_pdf", lambda html, **_: html.encode())
