// SPDX-License-Identifier: GPL-3.0-or-later
// The invented town through the importers, as a utility's own files would come: headings guessed,
// nothing lost, streets that are one graph but for the lane meant to be cut off, valves on mains,
// and histories that show the seasons' conditions.
#include "core/condition/history.h"
#include "core/condition/series.h"
#include "core/exchange/read_layer.h"
#include "core/schedule/due.h"
#include "core/streets/drive_graph.h"

#include <QHash>
#include <QSet>
#include <QTest>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace keyround;

namespace {

/// The state plane of the two tables that do not say theirs (sample-project/README.md).
constexpr int townEpsg = 3422;
const GeoPoint yard{38.7079378, -116.0635236};

ReadRequest requestFor(const char *name)
{
    ReadRequest request;
    request.path =
        QStringLiteral(KEYROUND_SOURCE_DIR "/sample-project/data/") + QLatin1String(name);
    if (request.path.endsWith(QLatin1String(".csv")))
        request.epsg = townEpsg;
    return request;
}

QString toldOf(const std::vector<RowNote> &notes)
{
    QStringList lines;
    for (const RowNote &note : notes)
        lines << QStringLiteral("row %1 %2 \"%3\": %4")
                     .arg(note.row)
                     .arg(note.column, note.value, note.reason);
    return lines.mid(0, 12).join(QLatin1Char('\n'));
}

double metresToPiece(const PlanePoint &at, const PlanePoint &a, const PlanePoint &b)
{
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    const double part =
        square > 0 ? std::clamp(((at.x - a.x) * dx + (at.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return distance(at, {a.x + dx * part, a.y + dy * part});
}

} // namespace

class TestSampleTownImport : public QObject
{
    Q_OBJECT

private Q_SLOTS:
    void initTestCase();
    void headingsAreGuessed();
    void valvesComeIn();
    void streetsAreOneGraphButForTheLane();
    void straightLineIsTheWrongWayOverTheRiver();
    void valvesLieOnMains();
    void servicesNameMains();
    void historiesShowEveryCondition();
    void someAreDueSomeNever();

private:
    Imported<ValveRow> m_valves;
    Imported<Street> m_streets;
    Imported<Main> m_mains;
    Imported<Hydrant> m_hydrants;
    Imported<Service> m_services;
    Imported<VisitRow> m_visits;
    std::vector<Valve> m_list;
    Histories m_histories;
    DriveGraph m_graph;
};

void TestSampleTownImport::initTestCase()
{
    const auto taken = [](auto result, auto &into) {
        if (!result)
            qWarning("%s", qPrintable(result.error().message));
        if (result)
            into = std::move(*result);
        return result.has_value();
    };
    QVERIFY(taken(readValves(requestFor("valves.csv")), m_valves));
    QVERIFY(taken(readStreets(requestFor("streets.gpkg")), m_streets));
    QVERIFY(taken(readMains(requestFor("mains.gpkg")), m_mains));
    QVERIFY(taken(readHydrants(requestFor("hydrants.geojson")), m_hydrants));
    QVERIFY(taken(readServices(requestFor("services.csv")), m_services));
    QVERIFY(taken(readVisits(requestFor("visits.csv")), m_visits));

    QHash<QString, ValveId> byNumber;
    for (const ValveRow &row : m_valves.rows) {
        Valve valve = row.valve;
        valve.id = ValveId{uuidFromContent(valve.number.toUtf8())};
        byNumber.insert(valve.number, valve.id);
        m_list.push_back(std::move(valve));
    }
    std::vector<Visit> visits;
    for (const VisitRow &row : m_visits.rows) {
        Visit visit = row.visit;
        visit.valve = byNumber.value(row.valveNumber);
        QVERIFY2(!visit.valve.isNull(), qPrintable(row.valveNumber));
        visits.push_back(std::move(visit));
    }
    m_histories = readHistories(m_list, visits, {}, Tolerance{});
    m_graph = DriveGraph::build(m_streets.rows);
}

void TestSampleTownImport::headingsAreGuessed()
{
    const auto has = [](const ColumnMatch &match, const char *key, const char *column) {
        return match.value(QLatin1String(key)) == QLatin1String(column);
    };
    QVERIFY(has(m_valves.columns, infoOf(ValveField::ListedTurns).key, "TURNS"));
    QVERIFY(has(m_valves.columns, infoOf(ValveField::Closes).key, "CLOSES"));
    QVERIFY(has(m_valves.columns, infoOf(ValveField::InstallYear).key, "YEAR_INST"));
    QVERIFY(has(m_valves.columns, infoOf(ValveField::Zone).key, "PRES_ZONE"));
    QVERIFY(has(m_valves.columns, infoOf(ValveField::CriticalCustomers).key, "CRITICAL_CUSTOMER"));
    QVERIFY(has(m_streets.columns, "one_way", "ONEWAY"));
    QVERIFY(has(m_visits.columns, "finished", "TIME_LEFT"));
    // Every column of ours has its field, but for those that nothing is made of.
    QCOMPARE(m_valves.columns.size(), 18);
    QCOMPARE(m_streets.columns.size(), 5);
    QCOMPARE(m_mains.columns.size(), 5);    // LENGTH_FT follows from the line
    QCOMPARE(m_hydrants.columns.size(), 2); // MAIN_NO and YEAR_INST are not kept
    QCOMPARE(m_services.columns.size(), 8);
    QCOMPARE(m_visits.columns.size(), 11);
}

void TestSampleTownImport::valvesComeIn()
{
    // One row stands in the list twice and two valves have no coordinates, on purpose.
    QCOMPARE(m_list.size(), std::size_t{1222});
    QVERIFY2(m_valves.rejected.size() == 1, qPrintable(toldOf(m_valves.rejected)));
    QVERIFY2(m_valves.warnings.size() == 2, qPrintable(toldOf(m_valves.warnings)));
    for (const auto *notes :
         {&m_streets.rejected, &m_streets.warnings, &m_mains.rejected, &m_mains.warnings,
          &m_hydrants.rejected, &m_hydrants.warnings, &m_services.rejected, &m_services.warnings,
          &m_visits.rejected, &m_visits.warnings})
        QVERIFY2(notes->empty(), qPrintable(toldOf(*notes)));
    QCOMPARE(m_streets.rows.size(), std::size_t{777});
    QCOMPARE(m_mains.rows.size(), std::size_t{1083});
    QCOMPARE(m_hydrants.rows.size(), std::size_t{297});
    QCOMPARE(m_services.rows.size(), std::size_t{3991});
    QCOMPARE(m_visits.rows.size(), std::size_t{5746});

    const auto count = [this](auto wanted) {
        return std::count_if(m_list.begin(), m_list.end(), wanted);
    };
    const auto ofRole = [&count](ValveRole role) {
        return count([role](const Valve &valve) { return valve.role == role; });
    };
    QCOMPARE(ofRole(ValveRole::HydrantLead), qptrdiff{297}); // one for each hydrant
    for (const ValveRole role : {ValveRole::MainLine, ValveRole::Boundary, ValveRole::BlowOff,
                                 ValveRole::Bypass, ValveRole::FireLine})
        QVERIFY2(ofRole(role) >= 20, qPrintable(wordFor(role)));
    QCOMPARE(ofRole(ValveRole::Other), qptrdiff{0}); // every spelling was understood
    for (const ValveType type : {ValveType::GearedGate, ValveType::Butterfly})
        QVERIFY2(count([type](const Valve &valve) { return valve.type == type; }) >= 20,
                 qPrintable(wordFor(type)));
    QVERIFY(count([](const Valve &valve) {
                return valve.closes == ClosingDirection::Counterclockwise;
            }) >= 20);
    QVERIFY(count([](const Valve &valve) { return valve.isCritical(); }) >= 50);
    QVERIFY(count([](const Valve &valve) { return !valve.listedTurns; }) >= 100);
    QVERIFY(count([](const Valve &valve) { return valve.retired; }) >= 1);
}

void TestSampleTownImport::streetsAreOneGraphButForTheLane()
{
    const DriveGraphReport &report = m_graph.report();
    QCOMPARE(report.leftOut, std::size_t{0});
    QCOMPARE(report.cutOff.size(), std::size_t{3});
    for (const DriveGraphReport::CutOff &piece : report.cutOff)
        QCOMPARE(piece.name, QStringLiteral("Killdeer Wash Lane"));
    const std::optional<Snap> snap = m_graph.snap(yard);
    QVERIFY(snap);
    QVERIFY(snap->offsetMetres < 5.0);
}

void TestSampleTownImport::straightLineIsTheWrongWayOverTheRiver()
{
    // On both banks half-way between the bridges.
    const GeoPoint west{38.7203372, -116.0536731};
    const GeoPoint east{38.7203068, -116.0480661};
    const auto driven = [&](const DriveGraph &graph) {
        const auto from = graph.snap(west);
        const auto to = graph.snap(east);
        return from && to ? graph.wayBetween(*from, *to).metres
                          : std::numeric_limits<double>::quiet_NaN();
    };
    const double straight = distanceBetween(west, east).value;
    QVERIFY2(driven(m_graph) > 2.5 * straight, qPrintable(QString::number(driven(m_graph))));

    // Only the two bridges meet the meridian that runs in the middle of the river.
    constexpr double middle = -116.0512;
    std::vector<Street> dry;
    QStringList bridges;
    for (const Street &street : m_streets.rows) {
        const auto isWest = [](const GeoPoint &point) { return point.longitude < middle; };
        const auto wests = std::count_if(street.line.begin(), street.line.end(), isWest);
        if (wests == 0 || wests == std::ssize(street.line))
            dry.push_back(street);
        else
            bridges << street.name;
    }
    bridges.sort();
    QCOMPARE(bridges,
             (QStringList{QStringLiteral("Copperleaf Avenue"), QStringLiteral("Juniper Parkway")}));
    // Without them one bank is cut off from the other: far more than the lane's three pieces.
    QVERIFY(DriveGraph::build(dry).report().cutOff.size() > 100);
}

void TestSampleTownImport::valvesLieOnMains()
{
    constexpr double oneFoot = 0.3048;
    const LocalPlane plane(yard);
    std::vector<PlaneLine> lines;
    for (const Main &main : m_mains.rows)
        lines.push_back(plane.toPlane(main.line));
    double worst = 0;
    for (const Valve &valve : m_list) {
        if (!valve.place.isValid())
            continue;
        const PlanePoint at = plane.toPlane(valve.place);
        double nearest = std::numeric_limits<double>::infinity();
        for (const PlaneLine &line : lines) {
            for (std::size_t i = 1; i < line.size(); ++i)
                nearest = std::min(nearest, metresToPiece(at, line[i - 1], line[i]));
        }
        worst = std::max(worst, nearest);
    }
    QVERIFY2(worst < oneFoot, qPrintable(QString::number(worst)));
}

void TestSampleTownImport::servicesNameMains()
{
    QSet<QString> numbers;
    for (const Main &main : m_mains.rows)
        numbers.insert(main.number);
    QCOMPARE(numbers.size(), static_cast<qsizetype>(m_mains.rows.size()));
    for (const Service &service : m_services.rows)
        QVERIFY2(numbers.contains(service.mainNumber), qPrintable(service.number));
    const auto critical = std::count_if(m_services.rows.begin(), m_services.rows.end(),
                                        [](const Service &service) { return service.critical; });
    QCOMPARE(critical, qptrdiff{32});
}

void TestSampleTownImport::historiesShowEveryCondition()
{
    const Span six{QDate(2020, 1, 1), QDate(2025, 12, 31)};
    const std::vector<PeriodCounts> series =
        conditionSeries(m_list, m_histories, six, PeriodLength::Quarter);
    QCOMPARE(series.size(), std::size_t{24});
    // Spring 2020 was lost: nobody has been anywhere by its end.
    QCOMPARE(series[1].of(Condition::Serviceable), 0);
    QVERIFY(series[1].of(Condition::NeverVisited) > 1100);
    const PeriodCounts &last = series.back();
    QVERIFY(last.of(Condition::Serviceable) > 400);
    QVERIFY(last.of(Condition::Defect) > 100);
    QVERIFY(last.of(Condition::DoesNotShut) > 10);
    QVERIFY(last.of(Condition::DoesNotTurn) > 5);
    QVERIFY(last.of(Condition::CannotReach) > 50);
    QVERIFY(last.of(Condition::NeverVisited) > 100);
    QVERIFY(wentOut(m_list, m_histories, {QDate(2025, 1, 1), QDate(2025, 12, 31)}).size() > 50);
    const auto leftOtherwise =
        std::count_if(m_histories.cbegin(), m_histories.cend(), [](const ValveHistory &history) {
            return history.leftOtherThanNormal.has_value();
        });
    QVERIFY(leftOtherwise >= 1 && leftOtherwise < 20);
}

void TestSampleTownImport::someAreDueSomeNever()
{
    Policy policy;
    policy.name = QStringLiteral("large and critical yearly, others every two years");
    PolicyRule large;
    large.name = QStringLiteral("large");
    large.sizeFrom = NominalSize::ofInches(16);
    large.intervalMonths = 12;
    PolicyRule critical;
    critical.name = QStringLiteral("critical");
    critical.criticalOnly = true;
    critical.intervalMonths = 12;
    PolicyRule others;
    others.name = QStringLiteral("others");
    others.intervalMonths = 24;
    policy.rules = {large, critical, others};
    QHash<int, int> states;
    for (const DueEntry &entry : dueList(m_list, m_histories, policy, QDate(2026, 3, 2)))
        ++states[static_cast<int>(entry.state)];
    const auto of = [&states](DueState state) { return states.value(static_cast<int>(state)); };
    QVERIFY2(of(DueState::Overdue) > 40, qPrintable(QString::number(of(DueState::Overdue))));
    QVERIFY2(of(DueState::Due) > 40, qPrintable(QString::number(of(DueState::Due))));
    QVERIFY2(of(DueState::NotDue) > 300, qPrintable(QString::number(of(DueState::NotDue))));
    QVERIFY(of(DueState::NeverVisited) > 100);
    QVERIFY(of(DueState::WaitingForRepair) > 50);
}

QTEST_GUILESS_MAIN(TestSampleTownImport)
#include "test_sample_town_import.moc"
