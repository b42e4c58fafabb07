"""Plant keys: short, different, the same every time."""

from hypothesis import given
from hypothesis import strategies as st

from gardenkit.planting.keys import plant_keys

NAMES = st.lists(
    st.sampled_from(
        [
            "Salvia nemorosa",
            "Salvia nemorosa 'Caradonna'",
            "Salvia nemorosa 'Amethyst'",
            "Salvia officinalis",
            "Salix purpurea",
            "Nepeta × faassenii",
            "Nepeta nervosa",
            "Geum rivale",
            "Rosa",
            "Rosa 'Complicata'",
        ]
    ),
    max_size=10,
)


@given(NAMES)
def test_every_kind_has_a_key_of_its_own(names: list[str]) -> None:
    keys = plant_keys(names)
    assert set(keys) == set(names)
    assert len(set(keys.values())) == len(keys)


@given(NAMES)
def test_keys_do_not_depend_on_the_order_of_the_list(names: list[str]) -> None:
    assert plant_keys(names) == plant_keys(reversed(names))


def test_a_key_is_three_letters_of_the_genus_unless_shared() -> None:
    assert plant_keys(["Salvia nemorosa"]) == {"Salvia nemorosa": "SAL"}
    assert plant_keys(["Salvia nemorosa", "Salix purpurea"]) == {"Salix purpurea": "SALP", "Salvia nemorosa": "SALN"}


def test_the_hybrid_sign_is_not_a_word() -> None:
    assert plant_keys(["Nepeta × faassenii", "Nepeta racemosa"])["Nepeta × faassenii"] == "NEPF"
