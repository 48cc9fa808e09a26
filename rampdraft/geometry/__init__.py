"""Shapes without force."""
