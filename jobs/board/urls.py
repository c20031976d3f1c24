from django.urls import path

from jobs.board import views

app_name = "board"
urlpatterns = [
    path("", views.waiting, name="waiting"),
    path("waiting-for.pdf", views.paper, name="paper"),
]
