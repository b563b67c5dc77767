// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/test_town.h"

#include "core/storage/layer_store.h"
#include "core/storage/valve_store.h"

#include <QCoreApplication>
#include <QDir>
#include <QSettings>
#include <QStandardPaths>

#include <array>

namespace keyround {

namespace {

constexpr int avenues = 6;
constexpr int streetRows = 5;
constexpr int riverAfterAvenue = 2; // between the third and the fourth avenue
constexpr double blockEast = 120.0;
constexpr double blockNorth = 100.0;

const std::array<const char *, avenues> avenueNames{
    "Alder Avenue", "Birch Avenue", "Cedar Avenue", "Dogwood Avenue", "Elm Avenue", "Fir Avenue"};
const std::array<const char *, streetRows> streetNames{
    "South Bridge Street", "Second Street", "Old Waterworks and Pumping Station Approach Road",
    "Fourth Street", "North Bridge Street"};

LocalPlane townPlane()
{
    return LocalPlane(GeoPoint{40.0, -150.0});
}

GeoPoint at(double east, double north)
{
    return townPlane().toGeo(PlanePoint{east, north});
}

/// A store that refuses the town's data leaves nothing to test.
void must(const Status &status)
{
    if (!status) {
        qFatal("the small town could not be made: %s", qPrintable(status.error().message));
    }
}

FeatureId featureId(const QString &name)
{
    return {uuidFromContent(QStringLiteral("small town %1").arg(name).toUtf8())};
}

Street street(const QString &key, const char *name, StreetClass kind, const GeoLine &line)
{
    Street made;
    made.id = featureId(QStringLiteral("street ") + key);
    made.key = key;
    made.name = QString::fromLatin1(name);
    made.kind = kind;
    made.line = line;
    return made;
}

bool crossesRiver(int avenue, int row)
{
    return avenue == riverAfterAvenue && row != 0 && row != streetRows - 1;
}

std::vector<Street> townStreets()
{
    std::vector<Street> made;
    for (int a = 0; a < avenues; ++a) {
        for (int s = 0; s < streetRows; ++s) {
            const auto kind = s == 0 ? StreetClass::Arterial : StreetClass::Residential;
            if (a + 1 < avenues && !crossesRiver(a, s)) {
                made.push_back(street(QStringLiteral("E%1%2").arg(a).arg(s),
                                      streetNames[static_cast<size_t>(s)], kind,
                                      {smallTownCorner(a, s), smallTownCorner(a + 1, s)}));
            }
            if (s + 1 < streetRows) {
                made.push_back(street(QStringLiteral("N%1%2").arg(a).arg(s),
                                      avenueNames[static_cast<size_t>(a)], StreetClass::Residential,
                                      {smallTownCorner(a, s), smallTownCorner(a, s + 1)}));
            }
        }
    }
    made.push_back(street(QStringLiteral("Y"), "Yard Lane", StreetClass::ServiceRoad,
                          {at(-90, -60), smallTownCorner(0, 0)}));
    return made;
}

Main mainBetween(const QString &number, int inches, const GeoLine &line)
{
    Main made;
    made.id = featureId(QStringLiteral("main ") + number);
    made.number = number;
    made.size = NominalSize::ofInches(inches);
    made.material = inches >= 12 ? QStringLiteral("DI") : QStringLiteral("CI");
    made.installYear = inches >= 12 ? 1988 : 1956;
    made.zone = QStringLiteral("Low");
    made.line = line;
    return made;
}

std::vector<Main> townMains()
{
    std::vector<Main> made;
    for (const Street &each : townStreets()) {
        if (each.key != QLatin1String("Y")) {
            const int inches = each.kind == StreetClass::Arterial ? 12 : 8;
            made.push_back(mainBetween(QStringLiteral("M-") + each.key, inches, each.line));
        }
    }
    return made;
}

std::vector<Hydrant> townHydrants()
{
    std::vector<Hydrant> made;
    for (int a = 0; a < avenues; a += 2) {
        Hydrant each;
        each.number = QStringLiteral("H-%1").arg(a + 1);
        each.id = featureId(each.number);
        each.place = at(a * blockEast + 12, 1.5 * blockNorth);
        each.address = QString::fromLatin1(avenueNames[static_cast<size_t>(a)]);
        made.push_back(each);
    }
    return made;
}

std::vector<Service> townServices()
{
    std::vector<Service> made;
    for (int i = 0; i < 40; ++i) {
        Service each;
        each.number = QStringLiteral("S-%1").arg(i + 1, 3, 10, QLatin1Char('0'));
        each.id = featureId(each.number);
        const int avenue = i % avenues;
        const int row = (i / avenues) % (streetRows - 1);
        each.place = at(avenue * blockEast + 15, (row + 0.3) * blockNorth + i);
        each.address = QStringLiteral("%1 %2").arg(100 + i).arg(
            QString::fromLatin1(avenueNames[static_cast<size_t>(avenue)]));
        each.mainNumber = QStringLiteral("M-N%1%2").arg(avenue).arg(row);
        each.critical = i == 7;
        made.push_back(each);
    }
    return made;
}

Valve valveAt(int index)
{
    // The grid has 30 corners; the last two stay empty.
    const int avenue = index % avenues;
    const int row = index / avenues;
    Valve made;
    made.number = QStringLiteral("V-%1").arg(index + 1, 3, 10, QLatin1Char('0'));
    made.id = ValveId{uuidFromContent(QStringLiteral("small town %1").arg(made.number).toUtf8())};
    made.place = at(avenue * blockEast + 6, row * blockNorth - 5);
    made.address = QStringLiteral("%1 at %2")
                       .arg(QString::fromLatin1(avenueNames[static_cast<size_t>(avenue)]),
                            QString::fromLatin1(streetNames[static_cast<size_t>(row)]));
    const std::array<int, 4> sizes{8, 6, 8, 12};
    const int inches = row == 0 && avenue == 3 ? 16 : sizes[static_cast<size_t>(index % 4)];
    made.size = NominalSize::ofInches(inches);
    made.type = inches == 16 ? ValveType::Butterfly : ValveType::Gate;
    if (index % 3 != 1 && made.type == ValveType::Gate) {
        made.listedTurns = QuarterTurns::ofTurns(3 * inches + 3);
    }
    made.closes = index % 9 == 4 ? ClosingDirection::Counterclockwise : ClosingDirection::Clockwise;
    made.role = index % 7 == 6 ? ValveRole::HydrantLead : ValveRole::MainLine;
    made.installYear = 1950 + index * 2;
    made.surface = row == 0 ? QStringLiteral("asphalt") : QStringLiteral("verge");
    made.zone = row >= 3 ? QStringLiteral("High") : QStringLiteral("Low");
    return made;
}

std::vector<Valve> townValves(const SmallTown &town)
{
    std::vector<Valve> made;
    for (int index = 0; index < 28; ++index) {
        Valve each = valveAt(index);
        if (each.number == town.withoutPlace) {
            each.place = {};
        }
        if (each.number == town.longWords) {
            each.address = QStringLiteral(
                "In the verge behind the third bench of Old Waterworks and Pumping Station "
                "Approach Road, opposite the invented Greater Elmbrook Regional Dialysis Centre");
            each.criticalCustomers = QStringLiteral(
                "Greater Elmbrook Regional Dialysis Centre and Day Hospital (invented)");
            each.remarks = QStringLiteral("Lid is hidden by the hedge; ask at the invented "
                                          "centre's front desk before the water goes off");
        }
        if (index == 20) {
            each.normally = NormalPosition::Closed;
            each.role = ValveRole::Boundary;
        }
        made.push_back(each);
    }
    return made;
}

Visit visitOn(const Valve &valve, const QDate &date)
{
    const QDateTime when(date, QTime(9, 0), Qt::OffsetFromUTC, -5 * 3600);
    Visit made;
    made.valve = valve.id;
    made.arrived = Moment::from(when);
    made.finished = Moment::from(when.addSecs(18 * 60));
    made.crew = QStringLiteral("Crew 1");
    made.recordedBy = QStringLiteral("R. Invented");
    made.device = QStringLiteral("truck laptop");
    const bool closed = valve.normally == NormalPosition::Closed;
    made.found = {closed ? Position::Closed : Position::Open, std::nullopt};
    made.left = made.found;
    const QuarterTurns turns = valve.listedTurns.value_or(
        QuarterTurns::ofTurns(static_cast<int>(3 * valve.size.inches()) + 2));
    made.passes = {{PassDirection::Closing, turns}, {PassDirection::Opening, turns}};
    if (closed) {
        std::swap(made.passes.front().direction, made.passes.back().direction);
    }
    return made;
}

std::vector<Visit> townVisits(const std::vector<Valve> &valves, const SmallTown &town)
{
    std::vector<Visit> made;
    for (size_t i = 0; i < valves.size(); ++i) {
        const Valve &valve = valves[i];
        // Every sixth valve was never visited; the others between March 2024 and January 2026.
        if (i % 6 == 5 || valve.number == town.neverVisited) {
            continue;
        }
        const QDate last = QDate(2024, 3, 18).addDays(static_cast<qint64>(i) * 24);
        made.push_back(visitOn(valve, last.addDays(-340)));
        Visit latest = visitOn(valve, last);
        if (valve.number == town.doesNotTurn) {
            latest.passes.clear();
            latest.problems = {Problem::CouldNotOperate};
        } else if (valve.number == town.leftClosed) {
            latest.left.position = Position::Closed;
            latest.passes.pop_back();
            latest.remarks = QStringLiteral("Left closed for the contractor's tie-in");
        } else if (i % 8 == 3) {
            latest.problems = {Problem::HardToTurn};
        }
        made.push_back(latest);
    }
    return made;
}

ProjectSettings townSettings(ProjectSettings settings)
{
    settings.utility = QStringLiteral("Water Department of an invented small town");
    settings.yard = at(-90, -60);
    settings.crews = {Crew{.name = QStringLiteral("Crew 1")},
                      Crew{.name = QStringLiteral("Crew 2")}};
    PolicyRule critical;
    critical.name = QStringLiteral("Critical customers");
    critical.criticalOnly = true;
    critical.intervalMonths = 6;
    PolicyRule large;
    large.name = QStringLiteral("12 in and larger");
    large.sizeFrom = NominalSize::ofInches(12);
    large.intervalMonths = 12;
    PolicyRule rest;
    rest.name = QStringLiteral("All others");
    rest.intervalMonths = 18;
    settings.policy.name = QStringLiteral("Small town");
    settings.policy.rules = {critical, large, rest};
    for (PolicyRule &rule : settings.policy.rules) {
        rule.source = QStringLiteral("utility's own (invented)");
    }
    return settings;
}

Status fill(Session &session, const SmallTown &town)
{
    Project &project = session.project();
    const Author author{QStringLiteral("Test"), QStringLiteral("test laptop")};
    LayerStore &layers = project.layers();
    const std::initializer_list<Status> layersIn{layers.put(townStreets()), layers.put(townMains()),
                                                 layers.put(townHydrants()),
                                                 layers.put(townServices())};
    for (const Status &status : layersIn) {
        must(status);
    }
    const std::vector<Valve> valves = townValves(town);
    for (const Valve &valve : valves) {
        must(project.valves().add(valve, author, smallTownMoment(), QStringLiteral("small town")));
    }
    for (Visit visit : townVisits(valves, town)) {
        auto stamp = project.nextStamp(visit.finished);
        if (!stamp) {
            return tl::unexpected(stamp.error());
        }
        visit.stamp = *stamp;
        visit.id = VisitId{newUuid7(visit.finished.utcMilliseconds)};
        if (const auto added = project.visits().add(visit); !added) {
            return tl::unexpected(added.error());
        }
    }
    auto settings = project.settings().load();
    if (!settings) {
        return tl::unexpected(settings.error());
    }
    return project.settings().save(townSettings(*settings));
}

Valve valveOnMain(const QString &number, const GeoPoint &place, const QString &address)
{
    Valve made;
    made.number = number;
    made.id = ValveId{uuidFromContent(QStringLiteral("small town %1").arg(number).toUtf8())};
    made.place = place;
    made.address = address;
    made.size = NominalSize::ofInches(8);
    made.type = ValveType::Gate;
    return made;
}

/// 10 m from the line's first point, and from its last.
std::pair<GeoPoint, GeoPoint> nearEnds(const GeoLine &line)
{
    const PlanePoint from = townPlane().toPlane(line.front());
    const PlanePoint to = townPlane().toPlane(line.back());
    const double share = 10.0 / distance(from, to);
    const auto between = [&](double part) {
        return at(from.x + part * (to.x - from.x), from.y + part * (to.y - from.y));
    };
    return {between(share), between(1 - share)};
}

Status addNetwork(Session &session)
{
    Project &project = session.project();
    const Author author{QStringLiteral("Test"), QStringLiteral("test laptop")};
    std::vector<Valve> valves;
    for (const Street &each : townStreets()) {
        if (each.key == QLatin1String("Y")) {
            continue;
        }
        const bool northwards = each.key.startsWith(QLatin1Char('N'));
        const auto [first, last] = nearEnds(each.line);
        valves.push_back(
            valveOnMain(QStringLiteral("G-%1-%2").arg(each.key, northwards ? QStringLiteral("S")
                                                                           : QStringLiteral("W")),
                        first, each.name));
        valves.push_back(
            valveOnMain(QStringLiteral("G-%1-%2").arg(each.key, northwards ? QStringLiteral("N")
                                                                           : QStringLiteral("E")),
                        last, each.name));
    }
    const GeoLine deadEnd{smallTownCorner(0, streetRows - 1),
                          at(0, (streetRows - 1) * blockNorth + 80)};
    valves.push_back(valveOnMain(QStringLiteral("G-DEAD"), nearEnds(deadEnd).first,
                                 QStringLiteral("Alder Avenue, at the end")));
    for (const Valve &valve : valves) {
        must(project.valves().add(valve, author, smallTownMoment(), QStringLiteral("network")));
        if (valve.number == QLatin1String("G-N21-N")) {
            Visit visit = visitOn(valve, QDate(2026, 1, 12));
            visit.passes.clear();
            visit.problems = {Problem::CouldNotOperate};
            const auto stamp = project.nextStamp(visit.finished);
            if (!stamp) {
                return tl::unexpected(stamp.error());
            }
            visit.stamp = *stamp;
            visit.id = VisitId{newUuid7(visit.finished.utcMilliseconds)};
            if (const auto added = project.visits().add(visit); !added) {
                return tl::unexpected(added.error());
            }
        }
    }
    std::vector<Service> services;
    for (int i = 1; i <= 3; ++i) {
        Service each;
        each.number = QStringLiteral("S-D%1").arg(i);
        each.id = featureId(each.number);
        each.place = at(5, (streetRows - 1) * blockNorth + 20 * i);
        each.mainNumber = QStringLiteral("M-DEAD");
        services.push_back(each);
    }
    Source tank;
    tank.number = QStringLiteral("T-1");
    tank.id = featureId(tank.number);
    tank.name = QStringLiteral("South Tank");
    tank.kind = SourceKind::Tank;
    tank.place = smallTownCorner(0, 0);
    LayerStore &layers = project.layers();
    return layers.put(std::vector<Main>{mainBetween(QStringLiteral("M-DEAD"), 6, deadEnd)})
        .and_then([&] { return layers.put(services); })
        .and_then([&] { return layers.put(std::vector<Source>{tank}); });
}

} // namespace

void keepSettingsApart()
{
    QStandardPaths::setTestModeEnabled(true);
    static const QTemporaryDir folder;
    QSettings::setDefaultFormat(QSettings::IniFormat);
    QSettings::setPath(QSettings::IniFormat, QSettings::UserScope, folder.path());
    QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope, folder.path());
    QCoreApplication::setOrganizationName(QStringLiteral("keyround-tests"));
    QCoreApplication::setApplicationName(QStringLiteral("keyround-tests"));
}

Moment smallTownMoment()
{
    return Moment::from(QDateTime(QDate(2026, 3, 16), QTime(6, 45), Qt::OffsetFromUTC, -5 * 3600));
}

std::unique_ptr<Clock> smallTownClock()
{
    return std::make_unique<FixedClock>(smallTownMoment());
}

GeoPoint smallTownCorner(int avenue, int street)
{
    return at(avenue * blockEast, street * blockNorth);
}

std::unique_ptr<SmallTown> makeSmallTown(Session &session)
{
    auto town = std::make_unique<SmallTown>();
    town->path = QDir(town->folder.path()).filePath(QStringLiteral("small-town.keyround"));
    town->withoutPlace = QStringLiteral("V-017");
    town->doesNotTurn = QStringLiteral("V-008");
    town->neverVisited = QStringLiteral("V-003");
    town->longWords = QStringLiteral("V-014");
    town->leftClosed = QStringLiteral("V-010");
    must(session.createProject(town->path, UnitSystem::Us));
    // One transaction: the file is made to survive power cuts, so every commit waits for the disk.
    must(session.project().transaction([&] { return fill(session, *town); }));
    Q_EMIT session.notifier().projectChanged();
    return town;
}

void addSmallTownNetwork(Session &session)
{
    must(session.project().transaction([&] { return addNetwork(session); }));
    Q_EMIT session.notifier().layersChanged();
    Q_EMIT session.notifier().valvesChanged();
    Q_EMIT session.notifier().visitsChanged();
}

} // namespace keyround
