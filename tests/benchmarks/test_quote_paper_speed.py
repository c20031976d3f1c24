"""How long a quote takes to become a paper, beside what the press alone takes for the same page.

Run with `pytest tests/benchmarks --benchmark-only -s`. Processor time of the best round.
"""

import time

import pytest
from django.conf import settings
from weasyprint import CSS, HTML

from estimating.quotes import services
from estimating.quotes.documents.paper import STYLESHEETS, customer_html, customer_paper
from estimating.quotes.documents.worked import WorkedQuote
from tests.quotes.making import BUMPER, OLD_DOCK, drafted, the_shop, today, with_ramp

MOST = 1.3
ROUNDS = 8


@pytest.fixture
def quote(db) -> WorkedQuote:
    return services.work_out(drafted(the_shop(), spec=with_ramp(), options=[BUMPER, OLD_DOCK]), on=today())


def press_alone(html: str) -> bytes:
    """WeasyPrint as its own documentation calls it: page, sheets, PDF."""
    folder = settings.STATICFILES_DIRS[0]
    sheets = [CSS(filename=folder / name) for name in (*STYLESHEETS,)]
    return HTML(string=html, base_url=str(folder)).write_pdf(stylesheets=sheets)


@pytest.mark.benchmark(timer=time.process_time)
def test_a_quote_takes_little_more_than_the_press(benchmark, quote):
    """Page, drawing and PDF of a dock with ramp and options. The two take turns, so that both meet the same machine."""
    by = quote.quote.created_by
    html = customer_html(quote, changes=[], by=by)
    alone_s = []

    def press_first() -> None:
        start = time.process_time()
        press_alone(html)
        alone_s.append(time.process_time() - start)

    pdf = benchmark.pedantic(
        customer_paper, (quote,), {"changes": [], "by": by}, setup=press_first, rounds=ROUNDS, warmup_rounds=1
    )
    whole, alone = benchmark.stats.stats.min, min(alone_s)
    benchmark.extra_info["press alone, ms"] = round(alone * 1000)
    print(f"\nquote PDF {whole * 1000:.0f} ms, press alone {alone * 1000:.0f} ms, ratio {whole / alone:.2f}")
    assert pdf.startswith(b"%PDF-")
    assert whole < MOST * alone


@pytest.mark.benchmark(timer=time.process_time)
def test_a_quote_is_worked_out_and_written_in_time(benchmark, quote):
    """What a change of one figure on the quote's page asks of the server, without the web around it."""
    by = quote.quote.created_by
    benchmark(lambda: customer_html(services.work_out(quote.quote, on=today()), changes=[], by=by))
    assert benchmark.stats.stats.min < 0.250
