from django.urls import URLPattern

app_name = "fieldwork"
urlpatterns: list[URLPattern] = []
