"""Beside the limit stands the dock as it lies with that many people at its edge."""

import re

from estimating.quotes import services
from estimating.quotes.documents.crowd_picture import crowd_picture
from estimating.quotes.documents.page import worked_page
from estimating.quotes.documents.paper import customer_html
from tests.quotes.making import drafted, today, with_ramp


def test_it_draws_as_many_at_the_edge_as_the_words_allow_there(owner):
    worked = services.work_out(drafted(owner, spec=with_ramp()), on=today())
    edge = worked.estimate.afloat.crowd("edge")
    assert edge.posted
    picture = crowd_picture(worked, prefix="q")
    assert picture.words.startswith(f"{edge.posted} people at the ")
    people = picture.svg.count('data-part="person"')
    assert people == 1  # in one row along the edge, seen from the end: one behind the other
    low, high = sorted(map(float, re.findall(r"(?i:left|right) ([\d.]+)\xa0in above", picture.svg)))
    rest = worked.estimate.afloat.case("dead_wet").least_freeboard_in
    assert 0 < low < rest < high  # tips, and stays dry
    for html in (
        customer_html(worked, changes=[], by=owner),
        str(worked_page(worked).crowd.svg) + worked_page(worked).crowd.words,
    ):
        assert picture.words in html and 'data-part="person"' in html
