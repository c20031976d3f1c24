from django.urls import path

from estimating.quotes.views import answers, papers, quotes

app_name = "quotes"
urlpatterns = [
    path("", quotes.quotes, name="quotes"),
    path("<int:pk>/", quotes.quote, name="quote"),
    path("<int:pk>/preview/", quotes.preview, name="preview"),
    path("<int:pk>/send/", quotes.send, name="send"),
    path("<int:pk>/revise/", quotes.revise, name="revise"),
    path("<int:pk>/drop/", quotes.drop, name="drop"),
    path("<int:pk>/accept/", answers.accept, name="accept"),
    path("<int:pk>/refuse/", answers.refuse, name="refuse"),
    path("<int:pk>/customer.pdf", papers.customer, name="customer_pdf"),
    path("<int:pk>/shop.pdf", papers.shop, name="shop_pdf"),
    path("<int:pk>/signed-page/", papers.signed_page, name="signed_page"),
]
