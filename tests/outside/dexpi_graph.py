"""A drawing of DEXPI 1 as a graph, written apart from the importer: by the conventions of the
mapping page that comes with the reference drawings (order of items, numbers of ports, open ends),
and with sources by rules N1 to N3."""

import re

PORTS = {"stop": 2, "check": 2, "relief": 2, "reducer": 2, "tee": 3, "cap": 1, "limit": 1,
         "node": 2, "other": 2, "three-way": 3}
CLASSES = {"BallValve": "stop", "GlobeValve": "stop", "ButterflyValve": "stop",
           "GateValve": "stop", "SwingCheckValve": "check", "PipeReducer": "reducer",
           "SpringLoadedGlobeSafetyValve": "relief", "PipeTee": "tee", "BlindFlange": "cap"}
SKIPPED = {"ShapeCatalogue", "Drawing", "Label", "Text"}
ITEMS = {"PipingComponent", "PipeOffPageConnector", "PipeConnectorSymbol", "PropertyBreak",
         "InlinePrimaryElement", "ProcessInstrument", "Component", "Nozzle", "Equipment"}
ENDS = ITEMS | {"ProcessInstrumentationFunction"}


class Part:
    """A vertex: an item, a nozzle, an equipment or a part of one, an instrument, an open end."""

    def __init__(self, name, kind, node=None, ports=None):
        self.name, self.kind, self.node, self.ports = name, kind, node, ports
        self.joints, self.operated, self.owner, self.chamber = [], False, None, None
        self.seat = False


class Drawing:
    """Parts, joints, sources."""

    def __init__(self, root):
        self.root = root
        self.parts, self.by_id, self.of_node = {}, {}, {}
        self.elements, self.up = {}, {}
        self.edges = []
        self.index(self.root)
        self.read_parts(self.root, None)
        for part in self.parts.values():
            self.links(part)
        self.drives()
        self.dangling = []
        for segment in self.all("PipingNetworkSegment"):
            self.segment(segment)
        self.equipment()
        self.open_ends()

    def index(self, node):
        for child in node:
            if child.tag not in SKIPPED:
                self.up[child] = node
                if child.get("ID"):
                    self.elements.setdefault(child.get("ID"), child)
                self.index(child)

    def all(self, tag):
        return [n for n in self.up if n.tag == tag]

    def read_parts(self, node, equipment):
        for child in node:
            if child.tag in SKIPPED:
                continue
            inner = equipment
            if child.tag == "Equipment" and equipment is None:
                inner = self.add(child, None)
            elif child.tag == "Nozzle":
                self.add(child, equipment)
            elif child.tag in ENDS and child.tag != "Equipment" and (
                    child.tag != "Component" or node.tag == "PipingNetworkSegment"):
                self.add(child, None)
            self.read_parts(child, inner)

    def add(self, node, owner):
        wish = node.get("ID") or "%s/without-id-%d" % (node.tag, len(self.parts))
        name = wish = re.sub(r"[\s,.]" if node.tag == "Nozzle" else r"[\s,]", "_", wish)
        number = 2
        while name in self.parts:
            name = "%s_%d" % (wish, number)
            number += 1
        part = Part(name, kind_of(node), node)
        part.owner = owner
        types = [n.get("Type") for n in node.findall("ConnectionPoints/Node")]
        if part.kind == "stop" and types[:1] == [None] and types.count("process") == 3:
            part.kind = "three-way"
        if part.kind == "nozzle" and owner is None:
            part.kind = "limit"
        part.ports = PORTS.get(part.kind)
        if part.ports is not None and types.count("process"):
            part.ports = min(part.ports, types.count("process"))
        self.parts[name] = self.of_node[node] = part
        self.by_id.setdefault(node.get("ID"), part)
        return part

    def links(self, part):
        for link in part.node.findall("Association"):
            to = self.elements.get(link.get("ItemID"))
            if to is None:
                continue
            if link.get("Type") == "is referenced by" and to.tag == "ActuatingSystemComponent":
                part.operated = True
            if link.get("Type") == "is the location of":
                part.seat |= to.tag == "ProcessSignalGeneratingFunction"
            if link.get("Type") == "is located in" and to.tag == "Equipment":
                part.chamber = part.chamber or to.get("ID")

    def drives(self):
        for node in self.up:
            signal = node.tag == "InformationFlow" and node.get("ComponentClass") in (
                "SignalConveyingFunction", "SignalLineFunction")
            for link in node:
                if node.tag == "ActuatingSystemComponent" and link.get("Type") == "refers to" or \
                        signal and link.get("Type") == "has logical end":
                    name = link.get("ItemID")
                elif signal and link.tag == "Connection":
                    name = link.get("ToID")
                else:
                    continue
                if name in self.by_id:
                    self.by_id[name].operated = True

    def join(self, a, b):
        if a is not None and b is not None and a is not b:
            a.joints.append(b)
            b.joints.append(a)
            self.edges.append((a.name, b.name))

    def segment(self, segment):
        chain = [self.of_node[n] for n in segment if n in self.of_node]
        connection = segment.find("Connection")
        get = connection.get if connection is not None else {}.get
        ends = [self.by_id.get(get(k)) if get(k) else None for k in ("FromID", "ToID")]
        own = [[p for p in chain if get(k) and p.node.get("ID") == get(k)][:1]
               for k in ("FromID", "ToID")]
        ends = [own[k][0] if own[k] else ends[k] for k in (0, 1)]
        if len(chain) > 1 and ends[0] is chain[-1]:
            chain.reverse()
        run = list(chain)
        if ends[0] is not None and ends[0] not in chain:
            run.insert(0, ends[0])
        if ends[1] is not None and ends[1] not in chain:
            run.append(ends[1])
        for a, b in zip(run, run[1:]):
            self.join(a, b)
        if not chain and len(run) == 1:
            self.dangling.append(run[0])

    def equipment(self):
        """Nozzles are joined to their equipment, of exchangers to their chamber."""
        for part in list(self.parts.values()):
            mine = [p for p in self.parts.values() if p.owner is part]
            used = [p for p in mine if p.joints or p in self.dangling]
            if part.kind == "exchanger" and used and all(p.chamber for p in used) \
                    and not part.joints:
                sides = {p.chamber: Part(part.name + "|" + p.chamber, "side") for p in used}
                for p in mine:
                    for chamber, side in sides.items():
                        if p.chamber in (None, chamber):
                            p.side = side
                            self.join(p, side)
                del self.parts[part.name]
                self.parts.update({s.name: s for s in sides.values()})
            else:
                for p in mine:
                    self.join(p, part)

    def open_ends(self):
        self.open, self.unused = [], []
        for part in list(self.parts.values()):
            if part.kind == "nozzle":
                if len(part.joints) < 2 and part not in self.dangling and not part.seat:
                    self.unused.append(part)
            elif part.ports is not None and part.node.tag not in (
                    "PipeOffPageConnector", "PipeConnectorSymbol", "Nozzle"):
                self.open += [part] * (part.ports - len(part.joints))
        self.open += self.dangling
        for number, part in enumerate(self.open + self.unused):
            end = Part("open end %d at %s" % (number, part.name), "open")
            self.parts[end.name] = end
            part.joints.append(end)
            end.joints.append(part)

    def closable(self, part):
        """May it be a point (D1, D2)? More joints than two: not what its class says."""
        return part.kind == "stop" and not part.operated and len(part.joints) <= 2

    @staticmethod
    def source(part):
        return part.kind in ("pump", "vessel", "equipment", "limit", "open")

    def targets(self, name):
        """The vertices of a part: of a split exchanger all of its sides."""
        return [p for n, p in self.parts.items() if n == name or n.startswith(name + "|")]

    def reached(self, name, closed):
        """Sources that reach the target while those devices are closed."""
        start = self.targets(name)
        seen, queue = set(start), list(start)
        while queue:
            for part in queue.pop().joints:
                if part not in seen and part.name not in closed:
                    seen.add(part)
                    queue.append(part)
        return sorted(p.name for p in seen if self.source(p) and p not in start)


def kind_of(node):
    cls = node.get("ComponentClass") or ""
    if node.tag == "Nozzle":
        return "nozzle"
    if node.tag == "ProcessInstrumentationFunction":
        return "instrument"
    if node.tag in ("PipeOffPageConnector", "PipeConnectorSymbol"):
        return "limit"
    if node.tag == "PropertyBreak":
        return "node"
    if node.tag == "Equipment":
        low = cls.lower()
        for kind, words in (("pump", ("pump", "compressor", "blower")),
                            ("exchanger", ("exchanger", "heater", "cooler")),
                            ("vessel", ("tank", "vessel", "column", "tower", "drum"))):
            if any(w in low for w in words):
                return kind
        return "equipment"
    return CLASSES.get(cls, "other")
