"""Two dot-matrix alphabets of our own drawing: capitals, digits and the few marks that our own words need.

The tall one is seven dots high and five wide where a character allows, the least that ISO 9241-3 accepts for
reading. The small one, five by three, is for titles where the tall one does not fit.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Font:
    """An alphabet: each character's rows, '#' for a dot. All have the same number of rows."""

    glyphs: Mapping[str, tuple[str, ...]]
    height: int

    def can_draw(self, text: str) -> bool:
        """Whether the alphabet has every character."""
        return all(character in self.glyphs for character in text)

    def dots_wide(self, text: str) -> int:
        """How many dots the text takes across, with one between characters."""
        return sum(len(self.glyphs[character][0]) for character in text) + max(0, len(text) - 1)

    def rows(self, text: str) -> tuple[str, ...]:
        """The text's rows of dots."""
        return tuple(".".join(self.glyphs[character][row] for character in text) for row in range(self.height))


def _read(drawn: str, *, space: str) -> Font:
    glyphs = {character: tuple(rows) for character, *rows in (line.split() for line in drawn.split("\n") if line)}
    height = len(next(iter(glyphs.values())))
    return Font(glyphs={**glyphs, " ": (space,) * height}, height=height)


TALL = _read(
    """
0 .###. #...# #..## #.#.# ##..# #...# .###.
1 ..#.. .##.. ..#.. ..#.. ..#.. ..#.. .###.
2 .###. #...# ....# ...#. ..#.. .#... #####
3 ##### ...#. ..#.. ...#. ....# #...# .###.
4 ...#. ..##. .#.#. #..#. ##### ...#. ...#.
5 ##### #.... ####. ....# ....# #...# .###.
6 ..##. .#... #.... ####. #...# #...# .###.
7 ##### ....# ...#. ..#.. ..#.. .#... .#...
8 .###. #...# #...# .###. #...# #...# .###.
9 .###. #...# #...# .#### ....# ...#. .##..
A .###. #...# #...# ##### #...# #...# #...#
B ####. #...# #...# ####. #...# #...# ####.
C .###. #...# #.... #.... #.... #...# .###.
D ####. #...# #...# #...# #...# #...# ####.
E ##### #.... #.... ####. #.... #.... #####
F ##### #.... #.... ####. #.... #.... #....
G .###. #...# #.... #.### #...# #...# .####
H #...# #...# #...# ##### #...# #...# #...#
I ### .#. .#. .#. .#. .#. ###
J ..### ...#. ...#. ...#. ...#. #..#. .##..
K #...# #..#. #.#.. ##... #.#.. #..#. #...#
L #.... #.... #.... #.... #.... #.... #####
M #...# ##.## #.#.# #.#.# #...# #...# #...#
N #...# ##..# #.#.# #..## #...# #...# #...#
O .###. #...# #...# #...# #...# #...# .###.
P ####. #...# #...# ####. #.... #.... #....
Q .###. #...# #...# #...# #.#.# #..#. .##.#
R ####. #...# #...# ####. #.#.. #..#. #...#
S .#### #.... #.... .###. ....# ....# ####.
T ##### ..#.. ..#.. ..#.. ..#.. ..#.. ..#..
U #...# #...# #...# #...# #...# #...# .###.
V #...# #...# #...# #...# #...# .#.#. ..#..
W #...# #...# #...# #.#.# #.#.# ##.## #...#
X #...# #...# .#.#. ..#.. .#.#. #...# #...#
Y #...# #...# .#.#. ..#.. ..#.. ..#.. ..#..
Z ##### ....# ...#. ..#.. .#... #.... #####
: .. ## ## .. ## ## ..
. .. .. .. .. .. ## ##
, .. .. .. .. .# .# #.
- .... .... .... #### .... .... ....
+ ..... ..#.. ..#.. ##### ..#.. ..#.. .....
_ ..... ..... ..... ..... ..... ..... #####
! ## ## ## ## .. ## ##
? .###. #...# ....# ..##. ..#.. ..... ..#..
' # # . . . . .
/ ....# ....# ...#. ..#.. .#... #.... #....
° .##. #..# #..# .##. .... .... ....
""",
    space="...",
)

SMALL = _read(
    """
0 ### #.# #.# #.# ###
1 .#. ##. .#. .#. ###
2 ##. ..# .#. #.. ###
3 ##. ..# .#. ..# ##.
4 #.# #.# ### ..# ..#
5 ### #.. ##. ..# ##.
6 .## #.. ### #.# ###
7 ### ..# .#. .#. .#.
8 ### #.# ### #.# ###
9 ### #.# ### ..# ##.
A .#. #.# ### #.# #.#
B ##. #.# ##. #.# ##.
C .## #.. #.. #.. .##
D ##. #.# #.# #.# ##.
E ### #.. ##. #.. ###
F ### #.. ##. #.. #..
G .## #.. #.# #.# .##
H #.# #.# ### #.# #.#
I ### .#. .#. .#. ###
J ..# ..# ..# #.# .#.
K #.# #.# ##. #.# #.#
L #.. #.. #.. #.. ###
M #...# ##.## #.#.# #...# #...#
N #..# ##.# #.## #..# #..#
O ### #.# #.# #.# ###
P ##. #.# ##. #.. #..
Q ### #.# #.# ### ..#
R ##. #.# ##. #.# #.#
S .## #.. .#. ..# ##.
T ### .#. .#. .#. .#.
U #.# #.# #.# #.# ###
V #.# #.# #.# #.# .#.
W #...# #...# #.#.# ##.## #...#
X #.# #.# .#. #.# #.#
Y #.# #.# .#. .#. .#.
Z ### ..# .#. #.. ###
: . # . # .
. . . . . #
, .. .. .. .# #.
- ... ... ### ... ...
+ ... .#. ### .#. ...
! # # # . #
? ##. ..# .#. ... .#.
' # # . . .
""",
    space="..",
)
