"""Thin views: fetch through an accessor, fill a form, call a service, render."""
