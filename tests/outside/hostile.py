"""Texts that mean harm or trouble, and plants that hold them in every field that takes one."""

import unicodedata
import xml.etree.ElementTree as tree

SPACE = "urn:stillset:plant:1"

# Name of the trouble: text. What XML itself does not allow stands in REFUSED.
TEXTS = {
    "script": "<script>alert(1)</script>",
    "picture": "\"><img src=x onerror=alert(1)>",
    "link": "<a href=\"javascript:alert(1)\">x</a><svg onload=alert(1)><style>*{display:none}</style>",
    "end of title": "</title></style></bdi></main><h1>out</h1><!--",
    "references": "&amp;&#x41;&lt;b&gt;&nbsp;&copy",
    "quotes": "it's \"quoted\" `so` \\\" and \\' too",
    "command": "=cmd|' /C calc'!A0",
    "plus": "+1+cmd",
    "at": "@SUM(A1)",
    "minus": "-2+3",
    "full width": "\uff1d1+1",
    "tab first": "\t=1+1",
    "line first": "\n=1+1",
    "lines": "first\nsecond\r\nthird\tfourth",
    "semicolon": "a;b,c\"\";=1",
    "right to left": "HV\u202e1-VH\u202c \u2066inner\u2069 \u200fmark\u061c",
    "zero width": "HV\u200b-\u20601\ufeff \u00adsoft \u2028line\u2029",
    "C1": "csi \u009b31m red \u0085 next",
    "long": "W" * 300,
    "long, narrow": "i-" * 150,
    "emoji": "\U0001f468\u200d\U0001f469\u200d\U0001f467 \U0001f1e9\U0001f1ea \u2764\ufe0f \U0001f44d\U0001f3fd",
    "marks": "Z" + "\u0301\u0302\u0303\u0304\u0308" * 20 + "a\u0334\u0335lgo",
    "scripts": "\u05d0\u05d1\u05d2 \u0645\u0631\u062d\u0628\u0627 \u0e01\u0e33\u0e25\u0e31\u0e07 \u6f22\u5b57 \u0928\u092e\u0938\u094d\u0924\u0947",
    "percent": "%s%n%d%x%%%1$s%*d",
    "dashes": "--> -- ---",
    "end of section": "]]>]]&gt;<![CDATA[x]]>",
    "DOT": "\\N{label} \\G \\l {a|b} <f0> \"; a -> b; //",
    "LaTeX": "\\input{/etc/passwd} $x^2$ \\newline % _ # ~",
    "PDF": ") Tj ET Q endstream endobj (/Type /Action /S /JavaScript",
    "path": "../../etc/passwd; rm -rf $(pwd) | `id`",
    "private use": "\ue000\uf8ff\U000f0000 \ufffd",
    "style": "};body{display:none}/*",
}

# As ids: no blank, comma or control character is in them, and no dot, since ports stand behind one.
IDS = {
    "markup": "<b>&\"'/>",
    "formula": "=1+1",
    "plus": "+1",
    "at": "@A1",
    "minus": "-1",
    "percent": "%s%n",
    "DOT": "\\N{a|b}\"",
    "mark up ends": "]]>--><!--",
    "long": "X" * 240,
    "emoji": "\U0001f44d\U0001f3fd\u2764\ufe0f",
    "marks": "e\u0301\u0302\u0303",
    "scripts": "\u05d0\u05d1-\u6f22",
    "colon": "a:b/c;d#e?f",
}

# Attributes that a plant file has for texts, and where they stand; "" = every element.
FIELDS = {"name": "", "place": "", "note": "", "drawing": "", "isolator": "feed", "off-at": "sequence",
          "revision": "plant", "substance": "service AIR", "kind": "exchanger vessel", "material": "spool"}


def as_read(text):
    """What the reader makes of a text (docs/FORMAT.md, 1.1): blanks for ends of lines, and a sign
    for each character that steers a terminal, turns the direction or cannot be seen."""
    out = []
    for ch in text:
        kind = unicodedata.category(ch)
        if ch in "\t\n\r":
            out.append(" ")
        elif kind in ("Cc", "Cf", "Zl", "Zp"):
            out.append("\ufffd")
        else:
            out.append(ch)
    return "".join(out)


def as_shown(text):
    """What people then see of a text of the record: nothing that steers or is of private use, and
    no more than four marks on one character."""
    out, marks = [], 0
    for ch in text:
        marks = marks + 1 if unicodedata.category(ch) in ("Mn", "Me") else 0
        if steers(ch) or marks == 5:
            out.append("?")
        elif marks <= 4:
            out.append(ch)
    return "".join(out)


def steers(text):
    """Characters that no output for people may hold."""
    return sorted({ch for ch in text if (unicodedata.category(ch) in ("Cc", "Cf", "Zl", "Zp", "Co"))
                   and ch not in "\n\u200c\u200d"})


def local(element):
    return element.tag.split("}")[1]


def applies(where, element):
    if where == "":
        return True
    return any(w == local(element) for w in where.split()) or (
        where.startswith("service ") and local(element) == "service"
        and element.get("id") == where.split()[1])


def fill(source, texts):
    """A plant file with texts in its fields. @param texts  attribute: text"""
    tree.register_namespace("", SPACE)
    root = tree.parse(source).getroot()
    for element in root.iter():
        if local(element) in ("port", "side"):
            continue
        for attribute, text in texts.items():
            if applies(FIELDS[attribute], element):
                element.set(attribute, text)
    return tree.tostring(root, encoding="unicode")


REFERENCES = {"supplies", "acts-on", "on", "via", "from", "to", "service"}


def rename(source, text):
    """A plant file with a text behind the id of everything, and that text is what it begins with."""
    tree.register_namespace("", SPACE)
    root = tree.parse(source).getroot()
    new = {e.get("id"): text + e.get("id") for e in root.iter()
           if e.get("id") is not None and local(e) not in ("port", "side", "plant")}
    for element in root.iter():
        for attribute, value in list(element.attrib.items()):
            if attribute == "id" and value in new:
                element.set("id", new[value])
            elif attribute in REFERENCES:
                words = []
                for word in value.split():
                    whole, dot, port = word.partition(".")
                    words.append(new.get(whole, whole) + dot + port)
                element.set(attribute, " ".join(words))
    return tree.tostring(root, encoding="unicode")


# Plant files that the reader has to refuse, with the words that say why; %s is the tutorial's text.
REFUSED = {
    "control character": (lambda s: s.replace('name="liquid stop valve"', 'name="a&#1;b"'), "STILL-"),
    "zero": (lambda s: s.replace('name="liquid stop valve"', 'name="a&#0;b"'), "STILL-"),
    "entity": (lambda s: s.replace('name="liquid stop valve"', 'name="&nbsp;"'), "STILL-"),
    "document type": (lambda s: s.replace("<plant ", '<!DOCTYPE plant [<!ENTITY x "y">]><plant ', 1), "STILL-"),
    "blank in an id": (lambda s: s.replace('"HV-1"', '"HV 1"'), "id"),
    "comma in an id": (lambda s: s.replace('"HV-1"', '"HV,1"'), "id"),
    "line in an id": (lambda s: s.replace('"HV-1"', '"HV&#10;1"'), "id"),
    "direction in an id": (lambda s: s.replace('"HV-1"', '"HV\u202e-1"'), "id"),
    "zero width in an id": (lambda s: s.replace('"HV-1"', '"HV\u200b-1"'), "id"),
    "id too long": (lambda s: s.replace('"HV-1"', '"%s"' % ("H" * 256)), "id"),
    "text too long": (lambda s: s.replace('name="liquid stop valve"', 'name="%s"' % ("n" * 4097)), "too long"),
    "half a character": (lambda s: s.replace('name="liquid stop valve"', 'name="\udcff"'), "STILL-"),
}
