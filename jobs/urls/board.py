"""Addresses of the crew board and of calendars that are read by a link."""

from django.urls import URLPattern, path

from jobs.views.board import board
from jobs.views.feeds import feeds

urlpatterns: list[URLPattern] = [
    path("board", board.board, name="board"),
    path("board/keep", board.board_keep, name="board-keep"),
    path("board/kept/<int:pk>/take-up", board.board_take_up, name="board-take-up"),
    path("f/<str:token>.ics", feeds.feed, name="feed"),
    path("calendar-links", feeds.feed_list, name="feed-list"),
    path("calendar-links/mine", feeds.feed_person, name="feed-person"),
    path("calendar-links/<int:pk>/revoke", feeds.feed_revoke, name="feed-revoke"),
    path("crews/<int:pk>/calendar-link", feeds.feed_crew, name="feed-crew"),
]
