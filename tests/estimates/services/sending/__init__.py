"""Tests of a quote on its way: its link, what is mailed, and what is answered."""
