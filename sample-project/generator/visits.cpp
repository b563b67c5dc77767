// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-project/generator/visits.h"

#include "sample-project/generator/life.h"
#include "sample-project/generator/seasons.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace keyround::sample {

namespace {

using std::chrono::sys_days;

constexpr int endOfWork = 15 * 60 + 15; ///< no valve is begun after this minute of the day

const char *normalWord(const ValvePoint &valve)
{
    return valve.normallyClosed ? "Closed" : "Open";
}

class Simulation
{
public:
    Simulation(Town &town, Random &random) : m_town(town), m_random(random)
    {
        for (const ValvePoint &valve : town.valves)
            m_lives.emplace_back(valve, random);
    }

    void work(const CrewDay &day);
    void repairUntil(sys_days day);

private:
    VisitRecord visit(std::size_t valve, double when, int crew);
    bool hindered(VisitRecord &record, Life &life);
    void notePosition(VisitRecord &record, const ValvePoint &valve);
    void turn(VisitRecord &record, const ValvePoint &valve, Life &life, int crew);
    double counted(double turns, int crew);
    void mistype(VisitRecord &record);
    int minutesFor(const VisitRecord &record, const ValvePoint &valve);

    Town &m_town;
    Random &m_random;
    std::vector<Life> m_lives;
    std::map<std::size_t, std::string> m_standsOtherwise; ///< left not in the normal position
};

/// Crew 1 counts quarters and is careful; Crew 3 counts whole turns and loses one now and then.
double Simulation::counted(double turns, int crew)
{
    const double noise = crew == 1 ? 0.2 : crew == 2 ? 0.4 : 0.7;
    const double step = crew == 1 ? 4.0 : crew == 2 ? 2.0 : 1.0;
    return std::max(0.0, std::round(m_random.normal(turns, noise) * step) / step);
}

bool Simulation::hindered(VisitRecord &record, Life &life)
{
    switch (life.hindrance()) {
    case Hindrance::None:
        return false;
    case Hindrance::NotFound:
        record.problems.emplace_back("Not found");
        if (m_random.chance(0.4))
            record.remarks =
                m_random.pick<std::string>({"Searched with locator, no tone", "Ties do not fit",
                                            "Measured from map, nothing"});
        break;
    case Hindrance::PavedOver:
        record.problems.emplace_back("Paved over");
        if (m_random.chance(0.3))
            record.remarks = "Locator tone under new asphalt";
        break;
    case Hindrance::BoxFull:
        record.problems.emplace_back("Box full");
        if (m_random.chance(0.3))
            record.remarks = m_random.pick<std::string>(
                {"Needs vacuum truck", "Box full of gravel", "Nut not seen, mud"});
        break;
    case Hindrance::NoAccess:
        record.problems.emplace_back("No access");
        if (m_random.chance(0.6))
            record.remarks =
                m_random.pick<std::string>({"Car parked on lid", "Fenced building site"});
        break;
    }
    life.noteHindranceSeen(record.when, m_random);
    return true;
}

void Simulation::notePosition(VisitRecord &record, const ValvePoint &valve)
{
    record.found = normalWord(valve);
    const auto otherwise = m_standsOtherwise.find(record.valve);
    if (otherwise != m_standsOtherwise.end()) {
        record.found = otherwise->second;
    } else if (valve.normallyClosed && valve.role == Role::Boundary && m_random.chance(0.035)) {
        record.found = "Open";
    } else if (!valve.normallyClosed && m_random.chance(0.009)) {
        record.found = m_random.chance(0.6) ? "Closed" : "Part open";
    }
    if (record.found == normalWord(valve))
        return;
    if (record.found == "Part open")
        record.remarks = "Found part open";
    else
        record.problems.emplace_back("Found " +
                                     std::string(record.found == "Open" ? "open" : "closed"));
}

void Simulation::turn(VisitRecord &record, const ValvePoint &valve, Life &life, int crew)
{
    record.left = normalWord(valve);
    switch (life.end()) {
    case End::Seized:
        record.problems.emplace_back("Could not operate");
        record.left = record.found;
        if (m_random.chance(0.35))
            record.turnsClosed = 0;
        if (m_random.chance(0.3))
            record.remarks = m_random.pick<std::string>(
                {"Stopped, did not force it", "Frozen", "Worked it back and forth, no movement"});
        life.noteEndSeen(record.when, m_random);
        return;
    case End::ClosesShort:
        record.turnsClosed = counted(valve.trueTurns * life.partOfTurns(), crew);
        record.turnsOpened = counted(valve.trueTurns * life.partOfTurns(), crew);
        if (m_random.chance(0.72))
            record.problems.emplace_back("Did not close");
        if (m_random.chance(0.3))
            record.remarks = m_random.pick<std::string>(
                {"Still passing water", "Hit something hard", "Flushed, no better"});
        life.noteEndSeen(record.when, m_random);
        return;
    case End::Spins:
        record.turnsClosed = std::round(valve.trueTurns * m_random.between(1.4, 2.4));
        record.problems.emplace_back("Spun continuously");
        record.left = record.found;
        life.noteEndSeen(record.when, m_random);
        return;
    case End::None:
        break;
    }
    record.turnsClosed = counted(valve.trueTurns, crew);
    record.turnsOpened = counted(valve.trueTurns, crew);
    if (life.isTight(record.when, m_random))
        record.problems.emplace_back("Hard to turn");
    if (valve.turnsOtherWay)
        record.problems.emplace_back("Turns other way");
    life.noteFullCycle(record.when);
    if (record.found != normalWord(valve) && m_random.chance(0.2)) {
        record.left = record.found;
        record.remarks = "Left as found, asked the office";
    } else if (m_random.chance(0.002)) {
        record.left = valve.normallyClosed ? "Open" : "Closed";
        record.remarks = "Left for main repair, to be set back";
    }
}

/// What fingers do: two digits changed places, one doubled, one missing.
void Simulation::mistype(VisitRecord &record)
{
    if (record.turnsClosed < 10 || !m_random.chance(0.005))
        return;
    const int turns = static_cast<int>(record.turnsClosed);
    const int tens = turns / 10;
    switch (m_random.whole(0, 2)) {
    case 0:
        record.turnsClosed = turns % 10 * 10 + tens % 10;
        break;
    case 1:
        record.turnsClosed = std::min(1999, turns * 10 + turns % 10);
        break;
    default:
        record.turnsClosed = tens;
        break;
    }
}

VisitRecord Simulation::visit(std::size_t index, double when, int crew)
{
    const ValvePoint &valve = m_town.valves[index];
    Life &life = m_lives[index];
    life.advanceTo(when, m_random);
    VisitRecord record;
    record.valve = index;
    record.when = when;
    record.crew = "Crew " + std::to_string(crew);
    if (hindered(record, life))
        return record;
    notePosition(record, valve);
    static const std::vector<std::string> words{
        "", "Packing leak", "Box shifted", "Lid missing", "Nut broken", "Stem bent"};
    if (life.defect() != Defect::None) {
        record.problems.push_back(words[static_cast<std::size_t>(life.defect())]);
        life.noteDefectSeen(when, m_random);
    }
    if (m_random.chance(0.012)) {
        record.left = record.found;
        record.remarks = m_random.pick<std::string>(
            {"Looked only, traffic too heavy", "Not turned, customer asked us to wait"});
        return record;
    }
    turn(record, valve, life, crew);
    mistype(record);
    if (record.left == normalWord(valve))
        m_standsOtherwise.erase(index);
    else
        m_standsOtherwise[index] = record.left;
    return record;
}

int Simulation::minutesFor(const VisitRecord &record, const ValvePoint &valve)
{
    double minutes = 8 + m_random.exponential(3.5);
    minutes += 0.16 * (std::max(0.0, record.turnsClosed) + std::max(0.0, record.turnsOpened));
    if (!record.problems.empty())
        minutes += m_random.between(2, 12);
    if (valve.inches >= 16)
        minutes += m_random.between(15, 35);
    return static_cast<int>(minutes);
}

void Simulation::work(const CrewDay &day)
{
    int minute = 7 * 60 + m_random.whole(15, 45);
    bool rested = false;
    for (const std::size_t valve : day.valves) {
        minute += m_random.whole(3, 9);
        if (!rested && minute > 11 * 60 + 40) {
            minute += 40;
            rested = true;
        }
        if (minute > endOfWork) // what was not reached goes back to the list
            return;
        VisitRecord record = visit(valve, yearsOf(day.day) + minute / 525960.0, day.crew);
        record.date = isoDate(day.day);
        record.minuteIn = minute;
        minute += minutesFor(record, m_town.valves[valve]);
        record.minuteOut = minute;
        m_town.visits.push_back(std::move(record));
    }
}

void Simulation::repairUntil(sys_days day)
{
    const double now = yearsOf(day);
    for (std::size_t i = 0; i < m_lives.size(); ++i) {
        Life &life = m_lives[i];
        if (!life.repairDue() || *life.repairDue() > now)
            continue;
        const ValvePoint &valve = m_town.valves[i];
        VisitRecord record;
        record.valve = i;
        record.when = now;
        record.date = isoDate(day);
        record.minuteIn = 12 * 60 + m_random.whole(30, 150);
        record.minuteOut = record.minuteIn + m_random.whole(45, 110);
        record.crew = "Repair crew";
        record.found = normalWord(valve);
        record.left = normalWord(valve);
        life.repair(now, m_random);
        m_standsOtherwise.erase(i);
        record.turnsClosed = counted(valve.trueTurns, 1);
        record.turnsOpened = counted(valve.trueTurns, 1);
        record.remarks = m_random.pick<std::string>(
            {"Repaired: new bonnet and stem, cycled twice", "Repaired: valve replaced in kind",
             "Repaired: operator rebuilt, full count", "Repaired: freed, flushed and cycled"});
        m_town.visits.push_back(std::move(record));
    }
}

} // namespace

void simulateVisits(Town &town, Random &random)
{
    using namespace std::chrono;
    const std::vector<CrewDay> days = planSeasons(town, random);
    Simulation simulation(town, random);
    auto next = days.begin();
    for (sys_days day{year{2020} / August / 31}; day <= sys_days{year{2025} / December / 12};
         day += std::chrono::days{1}) {
        for (; next != days.end() && next->day == day; ++next)
            simulation.work(*next);
        const unsigned weekday_ = weekday{day}.c_encoding();
        if (weekday_ >= 1 && weekday_ <= 5)
            simulation.repairUntil(day);
    }
    std::stable_sort(town.visits.begin(), town.visits.end(),
                     [](const VisitRecord &a, const VisitRecord &b) {
                         return a.date != b.date ? a.date < b.date : a.minuteIn < b.minuteIn;
                     });
}

} // namespace keyround::sample
