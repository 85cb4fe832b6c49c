"""Thin views of money: fetch through an accessor, fill a form, call a service, render."""
