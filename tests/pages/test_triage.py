"""Which texts are worth reading in full."""

from __future__ import annotations

import pytest

from xref.pages.evidence import pinout_evidence

PINOUTS = {
    "english header": "Connector X3\nPin Wire Color Circuit Function\n1 BK 1440 Ground",
    "german header": "Kammer Leitungsfarbe Querschnitt Belegung\n1 sw 0,5 Masse",
    "french header": "N° voie Couleur Section Affectation\n1 NO 0,5 Masse",
    "spanish header": "Vía Color del cable Sección Función\n1 NE 0,5 Masa",
    "italian header": "Piedino Colore Sezione Funzione\n1 N 0,5 Massa",
    "japanese header": "端子番号線色回路番号機能\n1 B 12 アース",
    "japanese header with blanks": "端子番号 線色 信号名\n1 B アース",
    "header as lines of their own": "Pin\nColour\nCircuit\nFunction\n1\nBK\n1440\nGround",
    "two-line header": "Terminal Wire\nNo. colour\n1 BK\n2 BU",
    "headerless continuation": "12 BK 1440 Lamp\n13 BU 1441 Horn\n14 RD 1442 Pump\n15 GN 1443 Fan",
    "odd cavities": "1 BK 1440\n3 BU 1441\n5 RD 1442\n7 GN 1443",
    "counting down": "8 BK 1440\n7 BU 1441\n6 RD 1442\n5 GN 1443",
    "wrapped functions": "\n".join(
        f"{n} BK 14{n:02} Lamp supply\nof the left side\nand the right" for n in range(1, 6)
    ),
    "lettered cavities": "A BK 1440\nB BU 1441\nC RD 1442\nD GN 1443",
    "named cavities": "A1 BK 1440\nA2 BU 1441\nA3 RD 1442\nA4 GN 1443",
    "mirrored": "GND 1 2 VCC\nCAN_H 3 4 CAN_L\nRX 5 6 TX\nRTS 7 8 CTS",
    "colour glued to the cavity": "6(black) IO_CH5\n7(black) IO_CH6\n8(black) IO_CH7\n9(black) IO_CH8",
    "only words": "\n".join(f"{n} Lamp supply left" for n in range(7, 14)),
    "cells column by column": "Way\nWire Code\n22\n23\n24\n25\n26\n39-109\n26-276\n37-147\n35-145\n29-799",
    "cells in no order": "YERD\n3\nMasse\nWH\n46-416\n2\nSection\nidem\nN° voie\nCouleur\n1,5\nfil\nCircuit",
    "headerless cells column by column": "bl\ntk\nge sw\nbr\nrt\n5\n38.7\n71.7\n25.8\n23\n24\n25\n26\n27",
    "one long line": "Vía 12\u00ad Función CAN alto Color del cable AZ Sección 0,75 Circuito 41.8",
    "last rows of a table": "- 10 -\n41 L51-01 L-S Pump\n42 L19-05 N-B Relay\nNotes\nSee the next chapter.",
    "last row in German": "41 br 1440 Masse\nDie Leitungen laufen am Längsträger.",
    "last rows with the circuit first": "4-8\nL35-04 T2 YE RD Capteur d'inclinaison ligne de\ndiagnostic",
    "whole page as one line": "- 3 - Component Warning buzzer Connector J346/P346 Color green Cavities 5 "
    "Gender female Pos. Description Colour Gauge CIRCUIT 30 Feedback RD 22 945 85 Buzzer ground RD-PK 22 295",
    "long functions behind the codes": "\n".join(
        f"{n} 14{n} supply of the lamp on the left and of the horn" for n in range(12, 17)
    ),
    "long functions before the codes": "\n".join(
        f"{n} supply of the lamp on the left and of the horn 14{n}" for n in range(12, 17)
    ),
    "jumbled and turned": "X239\nCOLOR\nGRN/GRY\nYEL CKTGA797 GH447No. Terminal 30858687 87a Circuit Wake-up",
    "pairs with dashes": "PK–WH lamp\nBU–BK horn\nGN–RD valve\nPK–RD fan",
    "header cells beside numbers": "sw-gn or-ge\nStromkreis 13-343 33-103\nKontakt-Nr. 3 4\n5\n2\n1\nge",
    "lying table with odd hyphens": "Kammer\u00adNr. 1 2 4 5 6 7\nFarbcode GN PK BN BK RD TQ",
    "soft hyphen in a header word": "Pin Leitungs\u00adfarbe\n1 sw",
    "list of pins": "Pin 7 – ignition feed\nPin 9 – lamp\nPin 12 – earth",
    "list in German": "Kammer 7: Zündung\nKammer 9: Lampe\nKammer 12: Masse",
    "lying table": "Pin 1 2 3 4 5 6\nColour BK BU RD GN YE WH",
    "inverse list": "GND: H1-29, H1-30, H1-31\nVCC: H2-1, H2-2, H2-3",
    "from-to list": "X1:4 X7:12\nX1:5 X7:13\nX2:1 S3:1",
    "colour pairs": "left lamp BK/WH\nright lamp BU/YE\nhorn RD/GN\nfan GN/BK",
    "entries along the line": "-X161\nPins:\n1 THR1 2 +5V 3 +5V 4 +5V\n5 +5V 6 RXD",
    "spelled colours": "left lamp red\nright lamp blue\nhorn green\nfan yellow",
}

KEYS = {
    "english key": "BK black\nBU blue\nRD red\nGN green\nYE yellow",
    "german key": "sw schwarz\nbl blau\nrt rot\ngn grün\nge gelb",
    "key with signs": "B = Black\nL = Blue\nR = Red\nG = Green",
    "key in one line": "Take the key out first.\nColour codes: BK black, BN brown, RD red, GN green, BU blue",
    "key in a sentence": "In the tables BK stands for black, BN for\nbrown, RD for red and GN for green.",
    "key in brackets": "Aderfarben: schwarz (sw), braun (br), rot (rt), grün (gn)",
    "german key in lines": "Farben: sw schwarz, br braun, rt rot,\ngn grün, bl blau, ws weiß",
    "french key": "Couleurs : NO = noir, MA = marron, RG = rouge, VE = vert",
    "spanish key": "Los colores son: NG negro, MR marrón, RJ rojo, VD verde y AZ azul.",
    "italian key": "Colori dei cavi: N nero, M marrone, R rosso, V verde",
    "japanese key": "線色：B＝黒、W＝白、R＝赤、G＝緑",
}

PROSE = {
    "steps": "Remove the cover from the pump.\nLoosen the four bolts and lift the motor out.\n"
    "Check the oil level before the engine starts.\nTighten the bolts crosswise.",
    "warranty": "The maker grants a warranty of twelve months from the day of delivery.\n"
    "It does not extend to parts that wear in normal use.",
    "torque": "Bolt Torque\nM6 10 Nm\nM8 25 Nm\nM12 80 Nm",
    "numbered bolts": "Pos. Bolt Torque Thread\n"
    + "\n".join(f"{n} left cover {n * 7} M8" for n in range(1, 9)),
    "screw threads with torques": "Ground stud M8 18 Nm\nBase plate M6 9 Nm\nCover M5 5 Nm\nFuse box M4 2 Nm",
    "numbered steps with measures": "\n".join(
        f"{n}. Lay the harness along the left rail.\nIt is held by clips every 300 mm.\n"
        "Tighten the bolts of the frame to 120 Nm crosswise and check the gap of 150 mm again."
        for n in range(1, 7)
    ),
    "lamps": "The lamp is red when faulty, green when ready, yellow when waiting, blue when charging.",
    "wires": "Join the red wire to the black wire.\nKeep blue and green wires apart.",
    "empty": "",
}


@pytest.mark.parametrize("name", PINOUTS)
def test_every_kind_of_pinout_passes(name: str) -> None:
    """A page that may hold a pinout is read in full, in six languages, with or without a header."""
    assert pinout_evidence(PINOUTS[name])


@pytest.mark.parametrize("name", KEYS)
def test_colour_keys_pass(name: str) -> None:
    """A page with the key to the colour codes is read in full, and the reason says so."""
    assert pinout_evidence(KEYS[name]) == "colour key"


@pytest.mark.parametrize("name", PROSE)
def test_prose_does_not_pass(name: str) -> None:
    """Pages without any sign of a pinout are skipped."""
    assert pinout_evidence(PROSE[name]) == ""
