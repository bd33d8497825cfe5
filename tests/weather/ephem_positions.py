#!/usr/bin/python3
"""Where the sun stands at 200 drawn instants and places, by python3-ephem, an independent program.

Run by ephem_test.cpp. One line each: seconds since 1970 UTC, latitude, longitude (degrees), zenith
and azimuth (degrees): topocentric, centre of the disc, pressure 0 and so without refraction.
"""

import datetime
import math
import random

import ephem

FIRST = datetime.datetime(2024, 1, 1)
LAST = datetime.datetime(2041, 1, 1)
EPOCH = datetime.datetime(1970, 1, 1)


def main():
    numbers = random.Random(20261126)
    for _ in range(200):
        instant = FIRST + datetime.timedelta(
            seconds=numbers.randrange(int((LAST - FIRST).total_seconds())))
        latitude_deg = round(math.degrees(math.asin(numbers.uniform(-1.0, 1.0))), 4)
        longitude_deg = round(numbers.uniform(-180.0, 180.0), 4)
        place = ephem.Observer()
        place.lat, place.lon = math.radians(latitude_deg), math.radians(longitude_deg)
        place.elevation, place.pressure = 0.0, 0.0
        place.date = ephem.Date(instant)
        sun = ephem.Sun(place)
        print(int((instant - EPOCH).total_seconds()), latitude_deg, longitude_deg,
              f"{90.0 - math.degrees(sun.alt):.6f}", f"{math.degrees(sun.az):.6f}")


if __name__ == "__main__":
    main()
