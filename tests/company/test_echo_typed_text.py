import datetime
from decimal import Decimal

import pytest
from django import forms
from django.template import Context, Template

from contractor.company.days import DayNotUnderstood, format_day, parse_day
from contractor.company.fields import DayField, LengthField, LevelField, MoneyField, PercentField, WeightField
from contractor.company.forms import FirmForm
from contractor.company.models import Company

DAY = datetime.date(2026, 5, 7)


class DockForm(FirmForm):
    width = LengthField(label="Width", least=48, most=120, help_text="Outside to outside")
    gap = LengthField(label="Gap", default_unit="in")
    depth = LevelField(label="Depth")
    weight = WeightField(label="Weight", required=False)
    price = MoneyField(label="Price")
    margin = PercentField(label="Margin")
    on = DayField(label="On", required=False)


TYPED = {"width": "5'9 1/2", "gap": "1/8", "depth": "U", "price": "6,750", "margin": "12%"}


def test_it_cleans_typed_text_to_one_unit(firm):
    form = DockForm({**TYPED, "weight": "100 kg", "on": "7 May 2026"})
    assert form.is_valid(), form.errors
    assert form.cleaned_data == {
        "width": 69.5,
        "gap": 0.125,
        "depth": None,
        "weight": pytest.approx(220.462, abs=0.001),
        "price": Decimal("6750.00"),
        "margin": Decimal("12.00"),
        "on": DAY,
    }


def test_it_reads_bare_numbers_in_the_firms_units(firm):
    Company.objects.update(units="metric")
    form = DockForm({**TYPED, "width": "2.54", "gap": "25.4", "depth": "2,54", "weight": "45.359237"})
    assert form.is_valid(), form.errors
    assert form.cleaned_data["width"] == 100
    assert form.cleaned_data["gap"] == 1
    assert form.cleaned_data["depth"] == 100
    assert form.cleaned_data["weight"] == pytest.approx(100)


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        ("width", "12 ft", "Between 4′ 0″ and 10′ 0″; you typed 12 ft."),
        ("width", "wide", "Type it like 16"),
        ("width", "", "Type a length: 6, 6&#x27; 0&quot; or 1.83 m."),
        ("depth", "", "or U if nobody knows"),
        ("price", "lots", "Type it like 6750"),
        ("on", "31 June 2026", "There is no 31 June 2026."),
        ("weight", "-3", "can’t be below zero"),
    ],
)
def test_it_keeps_typed_text_and_ties_the_sentence_to_its_box(firm, box, typed, said):
    form = DockForm({**TYPED, box: typed})
    page = form[box].as_field_group()
    assert said in page
    assert 'role="alert"' in page and f'id="id_{box}_error"' in page
    assert 'aria-invalid="true"' in page
    assert f"id_{box}_error" in page.split("aria-describedby=")[1].split('"')[1]
    assert typed == "" or f'value="{typed}"' in page


def test_it_shows_the_echo_without_scripts(firm):
    page = DockForm(TYPED)["width"].as_field_group()
    assert "= <b>5′ 9 1/2″, 1.77 m</b>" in page
    assert 'aria-describedby="id_width_helptext id_width_echo"' in page


def test_it_shows_kept_values_as_text_that_reads_back_the_same(firm):
    form = DockForm(initial={"width": 69.5, "gap": 0.125, "depth": 70.8, "price": Decimal("6750"), "on": DAY})
    shown = {name: form[name].value() for name in ("width", "gap", "depth", "price", "on")}
    assert shown == {"width": "5' 9 1/2\"", "gap": '1/8"', "depth": "5.9 ft", "price": "6,750.00", "on": "7 May 2026"}
    again = DockForm({**TYPED, **shown}, initial=form.initial)
    assert not set(shown) & set(again.changed_data)


def test_it_shows_the_unit_only_while_the_text_has_none(firm):
    form = DockForm({"width": "6", "gap": '1/8"'})
    assert (form["width"].unit, form["gap"].unit, form["price"].unit, form["margin"].unit) == ("ft", "", "USD", "%")


@pytest.mark.parametrize(
    ("query", "echo"),
    [
        ("kind=length&text=16-0", "= <b>16′ 0″, 4.88 m</b>"),
        ("kind=length&unit=in&of=gap&gap=1/8", "= <b>1/8″, 3 mm</b>"),
        ("kind=level&text=5.9", "= <b>5.9 ft, 1.80 m</b>"),
        ("kind=level&text=u", "= <b>unknown</b>"),
        ("kind=weight&text=100 kg", "= <b>220 lb, 100 kg</b>"),
        ("kind=margin&text=20", "= <b>25% markup on cost</b>"),
        ("kind=day&text=2026-05-07", "= <b>Thu 7 May 2026</b>"),
        ("kind=money&text=6750", "= <b>6,750.00</b>"),
        ("kind=length&text=wide", "“wide” is not a length."),
        ("kind=length&text=%3Cb%3E", "“&lt;b&gt;” is not a length."),
        ("kind=length&text=", ""),
    ],
)
def test_it_echoes_while_typing(at_desk, query, echo):
    assert at_desk.get(f"/company/echo/?{query}").content.decode().strip().startswith(echo)


def test_it_has_no_echo_for_what_it_does_not_know(at_desk):
    assert at_desk.get("/company/echo/?kind=spell&text=x").status_code == 404


@pytest.mark.parametrize("style", ["day_first", "month_first"])
@pytest.mark.parametrize("weekday", [True, False])
def test_it_reads_back_every_day_it_prints(style, weekday):
    for day in (DAY, datetime.date(2026, 12, 31), datetime.date(2028, 2, 29), datetime.date(2026, 9, 1)):
        assert parse_day(format_day(day, style, weekday=weekday), style=style, today=DAY) == day


@pytest.mark.parametrize(
    ("text", "style", "day"),
    [
        ("7 may", "day_first", DAY),
        ("May 7", "month_first", DAY),
        ("7th May 2026", "day_first", DAY),
        ("7/5/2026", "day_first", DAY),
        ("5/7/2026", "month_first", DAY),
        ("2026-05-07", "month_first", DAY),
        ("07.05.2026", "day_first", DAY),
    ],
)
def test_it_reads_days_in_the_firms_order(text, style, day):
    assert parse_day(text, style=style, today=datetime.date(2026, 1, 1)) == day


@pytest.mark.parametrize("text", ["", "soon", "30 Febtober", "31/13/2026", "99 May 2026", "7"])
def test_it_refuses_what_is_no_day(text):
    with pytest.raises(DayNotUnderstood):
        parse_day(text, today=DAY)


def test_it_prints_figures_in_the_firms_units(firm):
    template = Template(
        "{% load quantities %}{{ l|size }}; {{ l|cut }}; {{ l|echo }}; {{ w|say:'lb' }}; {{ m|money }}; {{ d|day }}; "
        "{{ d|day_short }}; {{ p|percent }}; {{ v|level }}"
    )
    facts = Context({"l": 69.5, "w": 850, "m": Decimal("6750"), "d": DAY, "p": Decimal("12.50"), "v": None})
    printed = template.render(facts).replace("\u00a0", " ")
    assert printed == (
        "5′ 9 1/2″; 5′ 9 1/2″; 5′ 9 1/2″, 1.77 m; 850 lb; 6,750.00; Thu 7 May 2026; Thu 7 May; 12.5%; unknown"
    )
    Company.objects.update(units="metric", date_style="month_first")
    printed = template.render(facts).replace("\u00a0", " ")
    assert printed == (
        "1.77 m; 1,765 mm; 1.765 m, 5′ 9 1/2″; 386 kg; 6,750.00; Thu May 7, 2026; Thu May 7; 12.5%; unknown"
    )


def test_it_draws_every_kind_of_box_with_its_label(firm):
    class Every(FirmForm):
        tick = forms.BooleanField(label="Agreed")
        pick = forms.ChoiceField(label="Pick", choices=[("a", "A")])
        ring = forms.ChoiceField(label="Ring", choices=[("a", "A")], widget=forms.RadioSelect)
        words = forms.CharField(label="Words", widget=forms.Textarea)
        file = forms.FileField(label="File")
        hidden = forms.CharField(widget=forms.HiddenInput)

    page = str(Every({}))
    assert page.count("Fill this in.") == 3 and page.count("Choose one.") == 2
    for name in ("tick", "pick", "words", "file"):
        assert f'for="id_{name}"' in page
    assert '<legend class="lab">Ring</legend>' in page
    assert "boxes need another look" in page
