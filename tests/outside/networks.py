#!/usr/bin/python3
"""Two published networks with valve layers, and the tool that turns them into plant files.

Small network (F-SEG-5): seven nodes, eight pipes, five valves; Herman and Mahmoud (CCWI 2017) with
the valve layer of USEPA/WNTR (Revised BSD), file test_metrics_segments.py.
EPANET example network 3 (F-SEG-10): public domain (US EPA), also in USEPA/WNTR; valve layers
"40 random", N-1, N-2, N-3 of WNTR 1.5.0 (Revised BSD), test_metrics_segments.py; N is a valve at
both ends of each link (rule F-SEG-3).

Every node and link, pumps included (they only carry here), becomes a fitting of kind "node" with
ids N-113, L-113; sources become limits behind their node (SRC-River behind N-River); each listed
valve becomes a lockable gate V-113-111 between link and node.

    networks.py NETWORK LAYER > plant.xml      (NETWORK small or net3; LAYER as printed without one)
"""

import sys

from common import PlantFile

SMALL_LINKS = "p1:s-n1 p2:n1-n2 p3:n2-n3 p4:n3-n4 p5:n4-n5 p6:n2-n5 p7:n5-n6 p8:n6-n1"
SMALL_VALVES = "p1,n1 p3,n2 p7,n5 p7,n6 p8,n6"
SMALL_SOURCES = ("s",)

NET3_SOURCES = ("River", "Lake", "1", "2", "3")

NET3_LINKS = """
    20:3-20 40:1-40 50:2-50 60:River-60 101:10-101 103:101-103 105:101-105 107:105-107
    109:103-109 111:109-111 112:115-111 113:111-113 114:115-113 115:107-115 116:113-193
    117:263-105 119:115-117 120:119-120 121:120-117 122:121-120 123:121-119 125:123-121
    129:121-125 131:125-127 133:20-127 135:127-129 137:129-131 145:129-139 147:139-141
    149:143-141 151:15-143 153:145-141 155:147-145 159:147-149 161:149-151 163:151-153
    169:125-153 171:119-151 173:119-157 175:157-159 177:159-161 179:161-163 180:163-164
    181:164-166 183:265-169 185:167-169 186:187-204 187:169-171 189:171-173 191:271-171
    193:35-181 195:181-177 197:177-179 199:179-183 201:40-179 202:185-184 203:183-185
    204:184-205 205:204-185 207:189-183 209:189-187 211:169-269 213:191-187 215:267-189
    217:191-193 219:193-195 221:161-195 223:197-191 225:111-197 229:173-199 231:199-201
    233:201-203 235:199-273 237:205-207 238:207-206 239:275-207 240:206-208 241:208-209
    243:209-211 245:211-213 247:213-215 249:215-217 251:217-219 257:217-225 261:213-229
    263:229-231 269:211-237 271:237-229 273:237-239 275:239-241 277:241-243 281:241-247
    283:239-249 285:247-249 287:247-255 289:50-255 291:255-253 293:255-251 295:249-251
    297:120-257 299:257-259 301:259-263 303:257-261 305:117-261 307:261-263 309:265-267
    311:193-267 313:269-189 315:181-271 317:273-275 319:273-205 321:163-265 323:201-275
    325:269-271 329:61-123 330:60-601 333:601-61 P10:Lake-10 P335:60-61
"""

NET3_RANDOM_40 = """
    105,105 161,149 113,111 295,249 197,177 333,601 115,115 313,269 321,265 101,101 189,173
    225,197 233,203 180,164 181,166 317,273 333,61 123,121 120,119 181,164 319,205 319,273
    275,241 153,145 123,119 20,3 202,184 297,120 330,601 240,206 189,171 109,109 20,20 177,159
    285,249 204,184 115,107 103,103 113,113 263,229
"""

NET3_N_1 = """
    10,10 20,20 201,40 289,50 330,60 335,60 333,601 329,61 335,61 101,101 103,101 103,103
    105,105 107,105 115,107 109,109 225,111 111,111 112,111 114,113 113,113 112,115 115,115
    114,115 119,117 121,117 123,119 171,119 173,119 297,120 122,120 121,120 123,121 122,121
    125,121 125,123 131,125 129,125 135,127 133,127 145,129 137,129 145,139 149,141 153,141
    151,143 155,145 155,147 159,149 163,151 161,151 163,153 175,157 175,159 179,161 221,161
    179,163 180,163 181,164 185,169 183,169 187,169 189,171 187,171 189,173 197,177 201,179
    199,179 315,181 193,181 203,183 199,183 204,184 202,185 205,185 209,187 186,187 207,189
    209,189 313,189 223,191 217,191 116,193 217,193 219,193 219,195 223,197 229,199 231,199
    323,201 231,201 205,204 319,205 237,205 240,206 237,207 238,207 240,208 241,209 269,211
    245,211 261,213 245,213 249,215 257,217 249,217 261,229 271,229 273,237 269,237 275,239
    283,239 275,241 277,241 285,247 281,247 295,249 283,249 295,251 287,255 289,255 293,255
    303,257 297,257 301,259 307,261 305,261 117,263 307,263 321,265 183,265 311,267 215,267
    325,269 211,269 191,271 315,271 319,273 317,273 239,275 323,275
"""

NET3_N_2 = """
    330,60 329,61 101,101 105,105 225,111 111,111 114,113 112,115 115,115 119,117 123,119
    171,119 297,120 122,120 123,121 122,121 131,125 135,127 145,129 149,141 163,151 179,161
    179,163 185,169 183,169 189,171 201,179 315,181 203,183 202,185 209,187 207,189 209,189
    223,191 116,193 217,193 229,199 323,201 319,205 237,207 269,211 261,213 257,217 261,229
    273,237 275,239 275,241 285,247 295,249 287,255 289,255 303,257 307,261 117,263 321,265
    311,267 325,269 191,271 319,273 239,275
"""

NET3_N_3 = """
    225,111 112,115 123,119 297,120 123,121 185,169 207,189 116,193 287,255
"""


def parse_links(text):
    """`id:node-node ...` as a list of (id, node, node); pump links lose their P (layers do too)."""
    links = []
    for word in text.split():
        link, ends = word.split(":")
        first, second = ends.split("-")
        if link.startswith("P"):
            link = link[1:]
        links.append((link, first, second))
    return links


def parse_layer(text):
    """`link,node ...` as a list of pairs."""
    return [tuple(word.split(",")) for word in text.split()]


def both_ends(links):
    """Layer N: a valve at both ends of each link."""
    return [(link, node) for link, *nodes in links for node in nodes]


NETWORKS = {
    "small": (parse_links(SMALL_LINKS), SMALL_SOURCES),
    "net3": (parse_links(NET3_LINKS), NET3_SOURCES),
}
LAYERS = {
    ("small", "five"): parse_layer(SMALL_VALVES),
    ("net3", "40 random"): parse_layer(NET3_RANDOM_40),
    ("net3", "N-1"): parse_layer(NET3_N_1),
    ("net3", "N"): both_ends(parse_links(NET3_LINKS)),
    ("net3", "N-2"): parse_layer(NET3_N_2),
    ("net3", "N-3"): parse_layer(NET3_N_3),
}


def plant_text(network, layer):
    """The plant file of a network with a valve layer. No port is left dangling."""
    links, sources = NETWORKS[network]
    valves = set(LAYERS[(network, layer)])
    missing = valves - {(link, node) for link, *nodes in links for node in nodes}
    if missing:
        raise ValueError("valves beside the network: %s" % sorted(missing))
    plant = PlantFile("%s-%s" % (network, layer.replace(" ", "-")))
    nodes = {node: None for _, *ends in links for node in ends}
    for node in nodes:
        plant.add("fitting", id="N-" + node, kind="node")
    for node in sources:
        plant.add("limit", id="SRC-" + node)
        plant.add("spool", id="S-SRC-" + node, from_="SRC-%s.in" % node, to="N-%s.source" % node)
    for link, *ends in links:
        plant.add("fitting", id="L-" + link, kind="node")
        for side, node in zip(("a", "b"), ends):
            end, here = "%s-%s" % (link, node), "L-%s.%s" % (link, side)
            there = "N-%s.%s" % (node, link)
            if (link, node) in valves:
                plant.add("valve", id="V-" + end, kind="gate", position="open", lockable="yes")
                plant.add("spool", id="S-%s-link" % end, from_=here, to="V-%s.in" % end)
                plant.add("spool", id="S-%s-node" % end, from_="V-%s.out" % end, to=there)
            else:
                plant.add("spool", id="S-" + end, from_=here, to=there)
    return plant.text()


def main():
    if tuple(sys.argv[1:]) not in LAYERS:
        for network, layer in LAYERS:
            print('%s "%s"' % (network, layer))
        return 2
    sys.stdout.write(plant_text(*sys.argv[1:]))
    return 0


if __name__ == "__main__":
    sys.exit(main())
