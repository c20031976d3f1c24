from django.urls import path

from jobs.handover.views import costs, packages, seasons

app_name = "handover"
urlpatterns = [
    path("jobs/<str:number>/hand-over/", packages.hand_over, name="job"),
    path("jobs/<str:number>/hand-over/make/", packages.make, name="make"),
    path("jobs/<str:number>/hand-over/<int:edition>/sign/", packages.sign, name="sign"),
    path("jobs/<str:number>/hand-over/<int:edition>/signed/", packages.signed_page, name="signed_page"),
    path("jobs/<str:number>/hand-over/<int:edition>.pdf", packages.paper, name="paper"),
    path("jobs/<str:number>/cost/", costs.cost, name="cost"),
    path("season/", seasons.season, name="season"),
    path("season/dates/", seasons.dates, name="dates"),
    path("season/<int:visit_id>/", seasons.visit, name="visit"),
    path("season/<int:visit_id>/drop/", seasons.drop, name="drop"),
    path("season/<int:visit_id>.pdf", seasons.sheet, name="sheet"),
]
