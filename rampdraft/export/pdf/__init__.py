"""Sheets of paper: alone imports reportlab."""
