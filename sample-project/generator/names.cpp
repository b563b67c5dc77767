// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/names.h"

namespace keyround::sample {

namespace {

const std::vector<std::string> &stems(NameStock stock)
{
    static const std::vector<std::string> trees{
        "Alder",    "Aspen",     "Bayberry", "Beech",    "Birch",  "Buckthorn", "Catalpa",
        "Chestnut", "Cypress",   "Dogwood",  "Elder",    "Elm",    "Ginkgo",    "Hackberry",
        "Hawthorn", "Hazel",     "Hemlock",  "Hickory",  "Holly",  "Hornbeam",  "Larch",
        "Linden",   "Locust",    "Madrone",  "Maple",    "Medlar", "Mulberry",  "Myrtle",
        "Olive",    "Persimmon", "Quince",   "Redbud",   "Rowan",  "Sassafras", "Serviceberry",
        "Spruce",   "Sumac",     "Sycamore", "Tamarack", "Tupelo"};
    static const std::vector<std::string> minerals{
        "Agate",      "Amber",      "Azurite",   "Barite",   "Basalt",   "Beryl",    "Calcite",
        "Chalcedony", "Cinnabar",   "Corundum",  "Dolomite", "Feldspar", "Fluorite", "Gabbro",
        "Galena",     "Garnet",     "Gneiss",    "Gypsum",   "Hematite", "Jasper",   "Kyanite",
        "Lapis",      "Magnetite",  "Malachite", "Mica",     "Obsidian", "Olivine",  "Onyx",
        "Opal",       "Peridot",    "Pumice",    "Pyrite",   "Rhyolite", "Rutile",   "Schist",
        "Selenite",   "Serpentine", "Slate",     "Spinel",   "Talc",     "Topaz",    "Zircon"};
    static const std::vector<std::string> birds{
        "Avocet",  "Bittern",   "Bluebird",  "Bobolink", "Bunting",  "Chickadee", "Cormorant",
        "Crane",   "Curlew",    "Dipper",    "Dunlin",   "Egret",    "Finch",     "Flicker",
        "Gadwall", "Godwit",    "Goldeneye", "Grebe",    "Grosbeak", "Harrier",   "Heron",
        "Ibis",    "Jay",       "Junco",     "Kinglet",  "Lark",     "Loon",      "Magpie",
        "Martin",  "Merganser", "Merlin",    "Nuthatch", "Oriole",   "Osprey",    "Pelican",
        "Phoebe",  "Pintail",   "Pipit",     "Plover",   "Rail",     "Sandpiper", "Siskin",
        "Snipe",   "Sora",      "Sparrow",   "Starling", "Swallow",  "Swift",     "Tanager",
        "Teal",    "Tern",      "Thrasher",  "Thrush",   "Towhee",   "Vireo",     "Warbler",
        "Waxwing", "Whimbrel",  "Willet",    "Wren"};
    switch (stock) {
    case NameStock::Trees:
        return trees;
    case NameStock::Minerals:
        return minerals;
    case NameStock::Birds:
        break;
    }
    return birds;
}

} // namespace

std::string StreetNames::take(NameStock stock, const std::vector<std::string> &suffixes)
{
    const std::vector<std::string> &from = stems(stock);
    std::size_t &used = m_used[static_cast<std::size_t>(stock)];
    for (;;) {
        // The suffix moves on by one more at each time round the stems, so pairs do not repeat.
        const std::size_t turn = used / from.size();
        std::string name =
            from[used % from.size()] + " " + suffixes[(used + turn) % suffixes.size()];
        ++used;
        if (m_given.insert(name).second)
            return name;
    }
}

} // namespace keyround::sample
