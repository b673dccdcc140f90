import pytest

from crankpin.problems.generator import Generator, fnv1a, seed_of


def test_against_known_values_of_splitmix64():
    """The sequence that implementations of SplitMix64 are commonly compared with; from memory."""
    generator = Generator(1234567)
    assert [generator.word() for _ in range(5)] == [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]


@pytest.mark.parametrize(
    ("text", "hash_"), [("", 0xCBF29CE484222325), ("a", 0xAF63DC4C8601EC8C), ("foobar", 0x85944171F73967E8)]
)
def test_against_known_values_of_fnv1a(text, hash_):
    """Test vectors commonly given for 64-bit FNV-1a; from memory."""
    assert fnv1a(text) == hash_


def test_a_seed_is_the_same_for_ever():
    assert seed_of("ten-turns", 1, 1) == fnv1a("1/ten-turns/1/1") == 11415873131373572653
    assert len({seed_of(name, version, variant) for name in "ab" for version in (1, 2) for variant in (1, 2)}) == 8


def test_whole_numbers_are_spread_evenly():
    generator = Generator(seed_of("spread", 1, 1))
    counts = [0] * 7
    for _ in range(7000):
        counts[generator.below(7)] += 1
    assert all(880 < count < 1120 for count in counts)  # four standard deviations


def test_an_order_has_everything_once():
    things = list(range(8))
    Generator(5).shuffle(things)
    assert sorted(things) == list(range(8))
    assert things != list(range(8))
