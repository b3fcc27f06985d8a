import pytest

from ground import sheet_goods, wood
from ground.published import densities


@pytest.mark.parametrize(
    ("species", "expected"),
    [
        ("white ash", 672.0),  # Wood Handbook: 0.60 x 1.12 x 1000
        ("white oak", 762.0),  # 0.68 x 1.12 x 1000 = 761.6
        ("black cherry", 560.0),  # 0.50 x 1.12 x 1000
        ("yellow-poplar", 470.0),  # 0.42 x 1.12 x 1000 = 470.4
    ],
)
def test_a_species_weighs_what_the_handbook_says(species, expected):
    found = wood.density(species)
    assert found is not None
    assert found.kg_m3 == expected


def test_case_hyphens_and_second_names_do_not_matter():
    assert wood.density("Yellow Poplar") == wood.density("yellow-poplar")
    assert wood.density("sugar maple") == wood.density("hard maple") is not None


def test_an_unknown_wood_or_core_has_no_density_rather_than_a_guess():
    assert wood.density("bog oak") is None
    assert sheet_goods.density("cardboard") is None


@pytest.mark.parametrize(("table", "key"), [("wood", "species"), ("sheet_goods", "core")])
def test_every_density_is_plausible_and_names_its_source(table, key):
    for name, density in densities(table, key).items():
        assert 100 < density.kg_m3 < 1300, name
        assert density.source, name
