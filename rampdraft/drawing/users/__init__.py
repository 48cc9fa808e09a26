"""Wheeled users as ink: from the side, and with what is to be measured of them."""
