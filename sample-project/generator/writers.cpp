// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/writers.h"

#include "sample-project/generator/layer_file.h"
#include "sample-project/generator/random.h"

#include <gdal_priv.h>

#include <cmath>
#include <cstdio>

namespace keyround::sample {

namespace {

const char invented[] = "Dunmallow Ford, an invented town: no real place, person or company";

/// The untidiness of files that many people have typed into over the years.
class Habits
{
public:
    explicit Habits(std::uint64_t seed) : m_random(seed) {}

    std::string nothing() { return m_random.pick<std::string>({"", "", "", "NULL", "-"}); }
    std::string size(int inches)
    {
        const std::string number = std::to_string(inches);
        if (m_random.chance(0.012))
            return nothing();
        return number + m_random.pick<std::string>({"\"", "\"", "\"", "", "", " in", " IN"});
    }
    std::string type(Kind kind)
    {
        if (m_random.chance(0.012))
            return nothing();
        switch (kind) {
        case Kind::Gate:
            return m_random.pick<std::string>(
                {"Gate", "Gate", "Gate", "Gate", "GATE", "GATE", "GV", "Gate valve"});
        case Kind::GearedGate:
            return m_random.pick<std::string>({"Geared gate", "GEARED GATE", "Gate, geared"});
        case Kind::Butterfly:
            break;
        }
        return m_random.pick<std::string>({"Butterfly", "Butterfly", "BUTTERFLY", "BFV"});
    }
    std::string turns(double listed)
    {
        if (listed <= 0)
            return nothing();
        const std::string number = std::to_string(static_cast<int>(std::lround(listed)));
        return m_random.chance(0.1) ? number + ".0" : number;
    }
    std::string closes(bool left)
    {
        if (left)
            return m_random.pick<std::string>({"CCW", "CCW", "L", "Left"});
        if (m_random.chance(0.04))
            return nothing();
        return m_random.pick<std::string>({"CW", "CW", "CW", "R", "R", "Right"});
    }
    std::string normal(bool closed)
    {
        if (closed)
            return m_random.pick<std::string>({"Closed", "Closed", "CLOSED", "C"});
        return m_random.pick<std::string>({"Open", "Open", "Open", "OPEN", "O"});
    }
    std::string role(Role role_)
    {
        switch (role_) {
        case Role::MainLine:
            return m_random.pick<std::string>({"Main line", "Main line", "MAIN", "Mainline"});
        case Role::HydrantLead:
            return m_random.pick<std::string>({"Hydrant lead", "Hydrant lead", "Hydrant", "HYD"});
        case Role::Boundary:
            return m_random.pick<std::string>({"Boundary", "Zone boundary"});
        case Role::BlowOff:
            return m_random.pick<std::string>({"Blow-off", "Blowoff", "BO"});
        case Role::Bypass:
            return "Bypass";
        case Role::FireLine:
            break;
        }
        return m_random.pick<std::string>({"Fire line", "FIRE LINE"});
    }
    std::string year(int year_)
    {
        return m_random.chance(0.03) ? nothing() : std::to_string(year_);
    }
    std::string surface(const std::string &surface_)
    {
        if (m_random.chance(0.04))
            return nothing();
        return surface_ == "Asphalt" && m_random.chance(0.1) ? "ASPH" : surface_;
    }
    bool loose() { return m_random.chance(0.008); }
    double by(double most) { return m_random.between(-most, most); }

private:
    Random m_random;
};

std::string wordFor(Zone zone)
{
    return zone == Zone::Low ? "Low" : zone == Zone::Middle ? "Middle" : "High";
}

std::string wordFor(Rank rank)
{
    switch (rank) {
    case Rank::Arterial:
        return "Arterial";
    case Rank::Collector:
        return "Collector";
    case Rank::Local:
        return "Local";
    case Rank::Service:
        break;
    }
    return "Service";
}

std::string fixed(double value, int decimals)
{
    char text[32];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    return text;
}

/// Turns as a crew writes them: 26, 26.5, 26.25; nothing when none were counted.
std::string turnsText(double turns)
{
    if (turns < 0)
        return {};
    const int quarters = static_cast<int>(std::lround(turns * 4));
    return fixed(quarters / 4.0, quarters % 4 == 0 ? 0 : quarters % 2 == 0 ? 1 : 2);
}

std::string clockText(int minute)
{
    char text[16];
    std::snprintf(text, sizeof text, "%02d:%02d", minute / 60 % 24, minute % 60);
    return text;
}

std::string joined(const std::vector<std::string> &words)
{
    std::string text;
    for (const std::string &word : words)
        text += (text.empty() ? "" : "; ") + word;
    return text;
}

std::string writeValves(const Town &town, const std::string &path)
{
    LayerFile file(FileKind::Csv, path, "valves", invented,
                   {{"VALVE_NO"},
                    {"X_FT"},
                    {"Y_FT"},
                    {"SIZE"},
                    {"VLV_TYPE"},
                    {"TURNS"},
                    {"CLOSES"},
                    {"NORMAL"},
                    {"FUNCTION"},
                    {"YEAR_INST"},
                    {"SURFACE"},
                    {"PRES_ZONE"},
                    {"CRITICAL_CUSTOMER"},
                    {"LOCATION"},
                    {"TIES"},
                    {"DEPTH_FT"},
                    {"ABANDONED"},
                    {"NOTES"}});
    Habits habits(townSeed + 1);
    const std::size_t twice = town.valves.size() / 3;
    for (std::size_t i = 0; i < town.valves.size(); ++i) {
        const ValvePoint &valve = town.valves[i];
        const std::vector<Cell> row{
            valve.number,
            valve.hasPlace ? fixed(valve.spot.x + originEast, 2) : std::string(),
            valve.hasPlace ? fixed(valve.spot.y + originNorth, 2) : std::string(),
            habits.size(valve.inches),
            habits.type(valve.kind),
            habits.turns(valve.listedTurns),
            habits.closes(valve.closesLeft),
            habits.normal(valve.normallyClosed),
            habits.role(valve.role),
            habits.year(valve.year),
            habits.surface(valve.surface),
            wordFor(valve.zone),
            valve.critical,
            valve.address,
            valve.ties,
            valve.depthFeet > 0 ? fixed(valve.depthFeet, 1) : habits.nothing(),
            std::string(valve.retired ? "Y" : "N"),
            valve.remarks};
        file.addRow(row);
        if (i == twice) // one valve stands in the list twice, as happens
            file.addRow(row);
    }
    return file.finish();
}

std::string writeStreets(const Town &town, const std::string &path)
{
    LayerFile file(
        FileKind::GeoPackage, path, "streets", invented,
        {{"SEG_ID"}, {"FULL_NAME"}, {"ROAD_CLASS"}, {"SPEED_MPH", FieldKind::Whole}, {"ONEWAY"}});
    Habits habits(townSeed + 2);
    int number = 0;
    for (const StreetPiece &street : town.streets) {
        Line line = street.line;
        // A few ends were drawn by hand and miss the corner by a third of a foot or less.
        if (habits.loose() && !street.bridge && street.district != District::Outside)
            line.back() = rounded(line.back() + Spot{habits.by(0.25), habits.by(0.25)});
        char id[16];
        std::snprintf(id, sizeof id, "ST%05d", ++number % 100000);
        file.addLine({std::string(id), street.name, wordFor(street.rank), street.mph,
                      std::string(street.oneWay == 0  ? "B"
                                  : street.oneWay > 0 ? "FT"
                                                      : "TF")},
                     line);
    }
    return file.finish();
}

std::string writeMains(const Town &town, const std::string &path)
{
    LayerFile file(FileKind::GeoPackage, path, "mains", invented,
                   {{"MAIN_NO"},
                    {"DIA_IN", FieldKind::Whole},
                    {"MATERIAL"},
                    {"YEAR_INST", FieldKind::Whole},
                    {"PRES_ZONE"},
                    {"LENGTH_FT", FieldKind::Real, 1}});
    for (const MainPiece &main : town.mains)
        file.addLine({main.number, main.inches, main.material, main.year, wordFor(main.zone),
                      std::round(lengthOf(main.line) * 10.0) / 10.0},
                     main.line);
    return file.finish();
}

std::string writeSources(const Town &town, const std::string &path)
{
    LayerFile file(FileKind::GeoJson, path, "sources", invented,
                   {{"SOURCE_NO"}, {"NAME"}, {"KIND"}});
    for (const SourcePoint &source : town.sources)
        file.addPoint({source.number, source.name, source.kind}, source.spot);
    return file.finish();
}

std::string writeHydrants(const Town &town, const std::string &path)
{
    LayerFile file(FileKind::GeoJson, path, "hydrants", invented,
                   {{"HYD_NO"}, {"ADDRESS"}, {"MAIN_NO"}, {"YEAR_INST", FieldKind::Whole}});
    for (const HydrantPoint &hydrant : town.hydrants)
        file.addPoint({hydrant.number, hydrant.address, hydrant.mainNumber, hydrant.year},
                      hydrant.spot);
    return file.finish();
}

std::string writeServices(const Town &town, const std::string &path)
{
    LayerFile file(FileKind::Csv, path, "services", invented,
                   {{"SERVICE_NO"},
                    {"X_FT"},
                    {"Y_FT"},
                    {"ADDRESS"},
                    {"CUSTOMER"},
                    {"PHONE"},
                    {"MAIN_NO"},
                    {"CRITICAL"}});
    for (const ServicePoint &service : town.services)
        file.addRow({service.number, fixed(service.spot.x + originEast, 2),
                     fixed(service.spot.y + originNorth, 2), service.address, service.customer,
                     service.phone, service.mainNumber, std::string(service.critical ? "Y" : "N")});
    return file.finish();
}

std::string writeVisits(const Town &town, const std::string &path)
{
    LayerFile file(FileKind::Csv, path, "visits", invented,
                   {{"VALVE_NO"},
                    {"VISIT_DATE"},
                    {"TIME_ARRIVED"},
                    {"TIME_LEFT"},
                    {"CREW"},
                    {"FOUND"},
                    {"TURNS_CLOSED"},
                    {"TURNS_OPENED"},
                    {"PROBLEMS"},
                    {"LEFT_AS"},
                    {"REMARKS"}});
    for (const VisitRecord &visit : town.visits)
        file.addRow({town.valves[visit.valve].number, visit.date, clockText(visit.minuteIn),
                     clockText(visit.minuteOut), visit.crew, visit.found,
                     turnsText(visit.turnsClosed), turnsText(visit.turnsOpened),
                     joined(visit.problems), visit.left, visit.remarks});
    return file.finish();
}

} // namespace

std::string writeTown(const Town &town, const std::string &folder)
{
    GDALAllRegister();
    for (const std::string &error :
         {writeValves(town, folder + "/valves.csv"), writeStreets(town, folder + "/streets.gpkg"),
          writeMains(town, folder + "/mains.gpkg"), writeSources(town, folder + "/sources.geojson"),
          writeHydrants(town, folder + "/hydrants.geojson"),
          writeServices(town, folder + "/services.csv"),
          writeVisits(town, folder + "/visits.csv")}) {
        if (!error.empty())
            return error;
    }
    return {};
}

} // namespace keyround::sample
