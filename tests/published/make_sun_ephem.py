#!/usr/bin/python3
"""Prints the rows of sun_ephem_test.cpp: sun positions by an independent program, python3-ephem.

Usage: python3 tests/published/make_sun_ephem.py
Needs Debian's python3-ephem (computed with 4.1.4). Topocentric, centre of the disc, pressure 0, so
without refraction. The first rows are corners (pole, polar night and day, date line, southern
noon, sun underfoot); the others are drawn with a fixed seed over 2000 to 2050.
"""

import datetime
import math
import random

import ephem

EPOCH = datetime.datetime(1970, 1, 1)

CORNERS = [
    (datetime.datetime(2024, 6, 20, 12, 0), 90.0, 0.0),
    (datetime.datetime(2024, 12, 21, 12, 0), -90.0, 0.0),
    (datetime.datetime(2026, 6, 21, 23, 0), 69.65, 18.96),
    (datetime.datetime(2026, 12, 21, 11, 0), 69.65, 18.96),
    (datetime.datetime(2025, 1, 15, 2, 30), -33.87, 151.21),
    (datetime.datetime(2025, 7, 15, 15, 30), -33.45, -70.67),
    (datetime.datetime(2027, 3, 20, 0, 0), 0.0, 180.0),
    (datetime.datetime(2027, 3, 20, 0, 0), 0.0, -180.0),
    (datetime.datetime(2026, 7, 18, 7, 0), 38.6, -107.9),
    (datetime.datetime(2000, 1, 1, 0, 0), 51.48, 0.0),
    (datetime.datetime(2049, 12, 31, 23, 59), -41.29, 174.78),
]


def drawn(count):
    numbers = random.Random(20260718)
    first = datetime.datetime(2000, 1, 1)
    seconds = int((datetime.datetime(2050, 1, 1) - first).total_seconds())
    for _ in range(count):
        instant = first + datetime.timedelta(seconds=numbers.randrange(seconds))
        latitude = round(math.degrees(math.asin(numbers.uniform(-1.0, 1.0))), 2)
        yield instant, latitude, round(numbers.uniform(-180.0, 180.0), 2)


def position(instant, latitude_deg, longitude_deg):
    place = ephem.Observer()
    place.lat = math.radians(latitude_deg)
    place.lon = math.radians(longitude_deg)
    place.elevation = 0.0
    place.pressure = 0.0
    place.date = ephem.Date(instant)
    sun = ephem.Sun(place)
    return 90.0 - math.degrees(sun.alt), math.degrees(sun.az)


def main():
    for instant, latitude_deg, longitude_deg in CORNERS + list(drawn(32)):
        zenith_deg, azimuth_deg = position(instant, latitude_deg, longitude_deg)
        utc_s = int((instant - EPOCH).total_seconds())
        print(f"    {{{utc_s}, {latitude_deg}, {longitude_deg}, {zenith_deg:.4f}, {azimuth_deg:.4f}}},"
              f"  // {instant:%Y-%m-%d %H:%M:%S}")


if __name__ == "__main__":
    main()
