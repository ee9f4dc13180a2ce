#!/usr/bin/env python3
# SPDX-License-Identifier: CC0-1.0
"""Draws the coast of Marrowick, which nobody ever surveyed: writes marrowick.geojson, the same bytes at every run.

    python3 make_coast.py

Needs nothing but Python. A shore is a list of stretches. Each is a curve through a few places, (latitude − 45) and (longitude + 30) in
degrees as a chart would show them, roughened by moving the middle of every piece to one side by some share of its length, again and again,
until the pieces are short. Places where one stretch meets the next stay exactly where they are. Rocks are rough ellipses.
"""
import json
import math
import random
from pathlib import Path

ORIGIN = (45.117, -30.117)
NORTH_M, EAST_M = 111_139.0, 78_704.0  # metres in a degree at the origin

# How long the pieces of the curve are in metres, how far the middle of a piece may be moved, as a share of its length, and how short pieces
# become.
STRETCHES = {
    "straight": (1e9, 0.0, 1e9),
    "beach": (60, 0.02, 16),
    "strand": (100, 0.03, 12),
    "cove": (130, 0.11, 35),
    "shore": (130, 0.15, 9),
    "head": (150, 0.18, 20),
    "cliff": (150, 0.20, 8),
    "rock": (220, 0.25, 7),
}

ISLE = [
    # the launch beach at the head of Sallow Cove, along a meridian, and the northern shore of the cove
    ("straight", [(.1155, -.1170), (.1160, -.1170), (.1165, -.1170), (.1170, -.1170), (.1175, -.1170), (.1180, -.1170), (.1185, -.1170)]),
    ("cove", [(.1185, -.1170), (.1194, -.1173), (.1203, -.1187), (.1206, -.1204), (.1216, -.1213), (.1225, -.1229), (.1222, -.1246),
              (.1229, -.1262), (.1225, -.1281), (.1232, -.1296), (.1240, -.1311)]),
    # Sallow Point with the beacon, Beacon Geo, the Anvil, Pine Bay, North Head
    ("cliff", [(.1240, -.1311), (.1246, -.1316), (.1252, -.1319), (.1258, -.1314), (.1262, -.1300), (.1258, -.1288), (.1250, -.1281),
               (.1251, -.1275), (.1263, -.1269)]),
    ("rock", [(.1263, -.1269), (.1277, -.1266), (.1287, -.1257), (.1291, -.1243), (.1285, -.1229), (.1276, -.1224)]),
    ("strand", [(.1276, -.1224), (.1265, -.1212), (.1261, -.1194), (.1266, -.1175)]),
    ("rock", [(.1266, -.1175), (.1277, -.1164), (.1282, -.1153), (.1294, -.1141), (.1299, -.1124), (.1310, -.1117), (.1306, -.1104), (.1293, -.1092),
              (.1281, -.1078), (.1283, -.1061), (.1290, -.1047), (.1286, -.1028), (.1275, -.1014)]),
    ("strand", [(.1275, -.1014), (.1267, -.1009), (.1262, -.1000)]),
    # Razor Head, and the Gut behind it
    ("head", [(.1262, -.1000), (.1266, -.0988), (.1263, -.0974), (.1268, -.0962), (.1264, -.0948), (.1257, -.0939), (.1250, -.0942),
               (.1249, -.0955), (.1244, -.0964), (.1243, -.0975), (.1236, -.0980), (.1228, -.0991)]),
    ("shore", [(.1228, -.0991), (.1226, -.1004), (.1219, -.1013), (.1217, -.1026), (.1209, -.1037), (.1203, -.1040), (.1200, -.1036)]),
    ("shore", [(.1200, -.1036), (.1204, -.1029), (.1210, -.1022), (.1214, -.1009), (.1220, -.1001), (.1222, -.0990)]),
    ("rock", [(.1222, -.0990), (.1219, -.0976), (.1210, -.0967), (.1198, -.0968), (.1189, -.0976)]),
    # Long Strand with the mouth of a stream, and the south-eastern rocks
    ("strand", [(.1189, -.0976), (.1178, -.0986), (.1164, -.0993), (.1152, -.0996), (.11485, -.10005), (.1144, -.0999), (.1143, -.0996),
                (.1130, -.0994), (.1117, -.0987), (.1108, -.0977)]),
    ("rock", [(.1108, -.0977), (.1100, -.0963), (.1088, -.0965), (.1080, -.0978), (.1076, -.0992), (.1064, -.1002), (.1061, -.1016),
              (.1051, -.1025), (.1054, -.1041), (.1045, -.1056), (.1049, -.1069), (.1044, -.1080)]),
    # the foot of Gull Hill, the pier and the harbour
    ("cliff", [(.1044, -.1080), (.1040, -.1094), (.1031, -.1104), (.1030, -.1121), (.1037, -.1133), (.1036, -.1147), (.1043, -.1154), (.1046, -.1162)]),
    ("strand", [(.1046, -.1162), (.1056, -.1175), (.1061, -.1192), (.1062, -.1207)]),
    ("straight", [(.1062, -.1207), (.10455, -.12165), (.10400, -.12215), (.10404, -.12228), (.10463, -.12178), (.10620, -.12088)]),
    ("straight", [(.10620, -.12088), (.1072, -.1212)]),
    ("shore", [(.1072, -.1212), (.1081, -.1222), (.1082, -.1236), (.1074, -.1247)]),
    ("straight", [(.1074, -.1247), (.1071, -.1251), (.10585, -.12425), (.10581, -.12438), (.1069, -.1254)]),
    ("rock", [(.1069, -.1254), (.1063, -.1266), (.1068, -.1281), (.1077, -.1290), (.1080, -.1303), (.1088, -.1315), (.1095, -.1319),
              (.1100, -.1313)]),
    # the southern shore of Sallow Cove
    ("cove", [(.1100, -.1313), (.1108, -.1303), (.1111, -.1287), (.1120, -.1274), (.1118, -.1255), (.1127, -.1241), (.1126, -.1223),
              (.1135, -.1208), (.1139, -.1192), (.1148, -.1180), (.1155, -.1170)]),
]
HOLM = [
    ("rock", [(.1036, -.1504), (.1033, -.1495), (.1025, -.1491), (.1016, -.1494)]),
    ("shore", [(.1016, -.1494), (.1005, -.1489), (.0993, -.1478), (.0982, -.1480)]),
    ("strand", [(.0982, -.1480), (.0971, -.1485), (.0961, -.1480)]),
    ("cliff", [(.0961, -.1480), (.0948, -.1474), (.0934, -.1476), (.0922, -.1486), (.0913, -.1499), (.0914, -.1514), (.0925, -.1526),
               (.0940, -.1529), (.0955, -.1523)]),
    ("shore", [(.0955, -.1523), (.0968, -.1517), (.0979, -.1523), (.0993, -.1525), (.1008, -.1515), (.1019, -.1514), (.1029, -.1513),
               (.1036, -.1504)]),
]
CALF = [
    ("cliff", [(.1462, -.1506), (.1461, -.1492), (.1452, -.1483), (.1441, -.1486), (.1436, -.1496), (.1427, -.1500), (.1424, -.1511),
               (.1432, -.1519), (.1440, -.1514), (.1447, -.1523), (.1456, -.1518), (.1462, -.1506)]),
]
# The Bar, sand and shingle that stays dry at high water. South Perch stands at its outer end.
BAR = [
    ("beach", [(.1067, -.13415), (.1069, -.1341), (.1075, -.1334), (.1079, -.1326), (.1081, -.13175), (.1079, -.1320), (.1073, -.1331),
               (.1068, -.1338), (.1067, -.13415)]),
]
# latitude, longitude, length and width in metres, bearing of the length, name
ROCKS = [
    (.1300, -.15042, 78, 38, 15, "Shag Rock"),
    (.1272, -.1326, 62, 28, 40, "the Kettles"), (.1277, -.1319, 38, 20, 60, "the Kettles"), (.1281, -.1330, 26, 14, 20, "the Kettles"),
    (.1284, -.1322, 18, 12, 80, "the Kettles"), (.1275, -.1333, 14, 10, 0, "the Kettles"), (.1288, -.1331, 12, 8, 30, "the Kettles"),
    (.1299, -.1247, 36, 16, 150, "Anvil Stack"), (.1297, -.1240, 16, 12, 90, "Anvil Stack"),
    (.1318, -.1131, 52, 26, 100, "North Stack"), (.1322, -.1115, 26, 16, 50, "North Stack"), (.1325, -.1122, 14, 10, 0, "North Stack"),
    (.1301, -.1031, 74, 34, 120, "Tern Skerry"), (.1306, -.1020, 34, 18, 100, "Tern Skerry"), (.1297, -.1020, 18, 12, 30, "Tern Skerry"),
    (.1252, -.0926, 46, 20, 110, "the Razors"), (.1249, -.0917, 30, 14, 110, "the Razors"), (.1246, -.0909, 20, 10, 110, "the Razors"),
    (.1256, -.0920, 12, 8, 60, "the Razors"),
    (.1082, -.0944, 60, 30, 30, "Seal Skerries"), (.1074, -.0951, 84, 36, 50, "Seal Skerries"), (.1068, -.0963, 32, 20, 0, "Seal Skerries"),
    (.1078, -.0938, 22, 14, 70, "Seal Skerries"), (.1066, -.0950, 18, 12, 20, "Seal Skerries"),
    (.1018, -.1114, 36, 22, 10, "Gull Stack"), (.1020, -.1102, 16, 12, 0, "Gull Stack"),
    (.0902, -.1501, 42, 24, 70, "Holm Calves"), (.0905, -.1487, 26, 16, 40, "Holm Calves"), (.0898, -.1493, 16, 10, 90, "Holm Calves"),
    (.1476, -.1500, 40, 20, 130, "Calf Rock"), (.1481, -.1494, 18, 12, 130, "Calf Rock"),
]


def metres(place):
    return (place[1] - 30 - ORIGIN[1]) * EAST_M, (place[0] + 45 - ORIGIN[0]) * NORTH_M


def degrees(point):
    return [round(ORIGIN[1] + point[0] / EAST_M, 6), round(ORIGIN[0] + point[1] / NORTH_M, 6)]


def curve(points, piece_m):
    """A Catmull-Rom curve through all points, in pieces of about that length."""
    padded = [points[0], *points, points[-1]]
    drawn = [points[0]]
    for before, start, end, after in zip(padded, padded[1:], padded[2:], padded[3:]):
        pieces = max(1, round(math.dist(start, end) / piece_m))
        for step in range(1, pieces + 1):
            t = step / pieces
            drawn.append(tuple(
                0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t * t + (3 * b - a - 3 * c + d) * t ** 3)
                for a, b, c, d in zip(before, start, end, after)))
    return drawn


def roughened(start, end, share, shortest_m):
    """What lies between two places and after the first, the end included."""
    length = math.dist(start, end)
    if length <= shortest_m:
        return [end]
    aside = random.uniform(-share, share)
    middle = ((start[0] + end[0]) / 2 - aside * (end[1] - start[1]), (start[1] + end[1]) / 2 + aside * (end[0] - start[0]))
    return roughened(start, middle, share, shortest_m) + roughened(middle, end, share, shortest_m)


def shore(stretches):
    ring = [metres(stretches[0][1][0])]
    for kind, places in stretches:
        piece_m, share, shortest_m = STRETCHES[kind]
        points = [metres(place) for place in places]
        smooth = points if kind == "straight" else curve(points, piece_m)
        for start, end in zip(smooth, smooth[1:]):
            ring += roughened(start, end, share, shortest_m)
    return [degrees(point) for point in ring]


def rock(latitude, longitude, length_m, width_m, bearing_deg):
    east, north = metres((latitude, longitude))
    turn, corners = math.radians(bearing_deg), max(9, round(length_m / 2.5))
    ring = []
    for corner in range(corners):
        angle, size = 2 * math.pi * corner / corners, random.uniform(0.76, 1.14) / 2
        along, across = size * length_m * math.cos(angle), -size * width_m * math.sin(angle)
        ring.append(degrees((east + along * math.sin(turn) + across * math.cos(turn),
                             north + along * math.cos(turn) - across * math.sin(turn))))
    return ring + ring[:1]


def feature(name, kind, ring):
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:]))
    geometry = {"type": "Polygon", "coordinates": [ring if area > 0 else ring[::-1]]}
    return {"type": "Feature", "properties": {"name": name, "kind": kind}, "geometry": geometry}


def main():
    random.seed(45_30)
    features = [feature("Marrowick", "isle", shore(ISLE)), feature("the Holm", "islet", shore(HOLM)),
                feature("the Calf", "islet", shore(CALF)), feature("the Bar", "bar", shore(BAR))]
    features += [feature(place[5], "skerry", rock(*place[:5])) for place in ROCKS]
    about = {
        "format": "takeline.coast/1",
        "title": "Coast of Marrowick (invented)",
        "date": "2026-02-01",
        "source": "drawn by make_coast.py; no survey, and no such isle",
        "licence": "CC0-1.0",
        "x-level": "mean high water",
        "datum": "WGS 84",
        "uncertainty_m": 5,
    }
    text = '{\n"type": "FeatureCollection",\n"takeline": ' + json.dumps(about, indent=2) + ',\n"features": [\n'
    text += ",\n".join(json.dumps(each, separators=(",", ":")).replace("],[", "],\n[") for each in features) + "\n]\n}\n"
    Path(__file__).with_name("marrowick.geojson").write_bytes(text.encode())
    print(f"{sum(len(each['geometry']['coordinates'][0]) for each in features)} vertices, {len(text) / 1000:.0f} kB")


if __name__ == "__main__":
    main()
