"""A quote sent, read on a phone and answered, in browsers and through a real mail server."""
