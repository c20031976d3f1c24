"""A bare list of jobs, the way Django's own tutorial lists things, inside our frame: what the home page is held to."""

from functools import cache

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.urls import include, path

from contractor.company.access import signed_in
from jobs.records.models import Job

ROWS = 50
PAGE = """{% extends "base.html" %}{% block main %}<h1>Jobs</h1><table>{% for job in page %}<tr>
<td><a href="{{ job.get_absolute_url }}">{{ job.number }}</a></td><td>{{ job.client.filed_under }}</td>
<td>{{ job.site.water_body }}</td><td>{{ job.owner.name }}</td><td>{{ job.get_stage_display }}</td>
<td>{{ job.called_on|date }}</td></tr>{% endfor %}</table>
<p>Page {{ page.number }} of {{ page.paginator.num_pages }}</p>{% endblock %}"""


@cache
def template():
    return engines["django"].from_string(PAGE)


@signed_in
def bare(request: HttpRequest) -> HttpResponse:
    jobs = Job.objects.filter(ending="").select_related("client", "site", "owner").order_by("-year", "-sequence")
    return HttpResponse(template().render({"page": Paginator(jobs, ROWS).page(1)}, request))


urlpatterns = [path("bare/", bare), path("", include("contractor.urls"))]
