// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/load_list.h"

#include <QMap>

#include <algorithm>
#include <cmath>
#include <functional>

namespace keyround {

namespace {

QString stopsText(std::ptrdiff_t count)
{
    return count == 1 ? QStringLiteral("1 stop") : QStringLiteral("%1 stops").arg(count);
}

using Counter = std::function<int(const LoadStop &)>;

class LoadWriter
{
public:
    LoadWriter(const std::vector<LoadStop> &stops, UnitSystem units, const LoadHabits &habits)
        : m_stops(stops), m_units(units), m_habits(habits)
    {
    }

    std::vector<LoadLine> write()
    {
        addCones();
        addSigns();
        addMost(LoadKind::FlaggerPaddles, QStringLiteral("Flagger paddles"),
                [](const LoadStop &stop) { return stop.setUp ? stop.setUp->flaggers : 0; });
        addMost(LoadKind::People, QStringLiteral("People"),
                [](const LoadStop &stop) { return stop.setUp ? stop.setUp->people : 0; });
        addKey();
        addByText(
            LoadKind::Nut, QStringLiteral("Socket or adapter for a nut of %1"),
            [](const LoadStop &stop) { return stop.valve.nut; }, false);
        addSet(LoadKind::GearedTools, QStringLiteral("Tools for geared and butterfly valves"),
               [](const LoadStop &stop) {
                   return stop.valve.type == ValveType::GearedGate ||
                          stop.valve.type == ValveType::Butterfly;
               });
        addByText(LoadKind::Lids, QStringLiteral("Spare lid, %1"), lidWanted, true);
        addSet(LoadKind::BoxTools, QStringLiteral("Tools to clear and straighten a box"),
               [](const LoadStop &stop) {
                   return stop.openProblems.contains(Problem::BoxFull) ||
                          stop.openProblems.contains(Problem::BoxShifted);
               });
        addSum(LoadKind::Sheets, QStringLiteral("Paper sheets"),
               [this](const LoadStop &) { return m_habits.sheetsAStop; });
        addSum(LoadKind::Notices, QStringLiteral("Notices to hang"),
               [](const LoadStop &stop) { return stop.notices; });
        addSet(LoadKind::NotWorkedOut, QStringLiteral("Work zone not worked out: not in this list"),
               [](const LoadStop &stop) { return !stop.setUp.has_value(); });
        return std::move(m_lines);
    }

private:
    static QString lidWanted(const LoadStop &stop)
    {
        if (!stop.openProblems.contains(Problem::LidMissing)) {
            return {};
        }
        return stop.valve.lid.isEmpty() ? QStringLiteral("size not known") : stop.valve.lid;
    }

    void addCones()
    {
        const auto cones = [](const LoadStop &stop) { return stop.setUp ? stop.setUp->cones : 0; };
        addMost(LoadKind::Cones,
                QStringLiteral("Cones (%1 spare among them)").arg(m_habits.spareCones), cones,
                m_habits.spareCones);
    }

    void addSigns()
    {
        QMap<QString, int> legends;
        for (const LoadStop &stop : m_stops) {
            if (stop.setUp) {
                for (const ZoneSign &sign : stop.setUp->signs) {
                    legends.insert(sign.legend, 0);
                }
            }
        }
        for (auto legend = legends.cbegin(); legend != legends.cend(); ++legend) {
            const QString words = legend.key();
            addMost(LoadKind::Sign, QStringLiteral("Sign: %1").arg(words),
                    [&words](const LoadStop &stop) {
                        return !stop.setUp ? 0
                                           : static_cast<int>(std::ranges::count(
                                                 stop.setUp->signs, words, &ZoneSign::legend));
                    });
        }
    }

    void addKey()
    {
        double deepest = 0;
        for (const LoadStop &stop : m_stops) {
            deepest = std::max(deepest, stop.valve.depthToNut.value_or(Metres{0}).value);
        }
        if (deepest <= 0) {
            return;
        }
        LoadLine line;
        line.kind = LoadKind::Key;
        const auto unknown = std::ranges::count_if(
            m_stops, [](const LoadStop &stop) { return !stop.valve.depthToNut; });
        line.what = QStringLiteral("Key for a nut %1 deep").arg(lengthText({deepest}, m_units));
        if (unknown > 0) {
            line.what += QStringLiteral(" (of %1 no depth is on record)").arg(stopsText(unknown));
        }
        line.amount = lengthText({deepest + m_habits.keyAboveLid.value}, m_units);
        for (const LoadStop &stop : m_stops) {
            line.stops.push_back(stop.valve.id);
            if (stop.valve.depthToNut && stop.valve.depthToNut->value >= deepest) {
                line.deciding.push_back(stop.valve.id);
            }
        }
        m_lines.push_back(std::move(line));
    }

    /// The stop that needs most decides.
    void addMost(LoadKind kind, const QString &what, const Counter &count, int spare = 0)
    {
        int most = 0;
        LoadLine line;
        line.kind = kind;
        line.what = what;
        for (const LoadStop &stop : m_stops) {
            const int needed = count(stop);
            if (needed == 0) {
                continue;
            }
            line.stops.push_back(stop.valve.id);
            if (needed > most) {
                line.deciding.clear();
                most = needed;
            }
            if (needed == most) {
                line.deciding.push_back(stop.valve.id);
            }
        }
        if (most > 0) {
            line.amount = QString::number(most + spare);
            m_lines.push_back(std::move(line));
        }
    }

    /// Every stop leaves its own behind.
    void addSum(LoadKind kind, const QString &what, const Counter &count)
    {
        int total = 0;
        LoadLine line;
        line.kind = kind;
        line.what = what;
        for (const LoadStop &stop : m_stops) {
            if (const int needed = count(stop); needed > 0) {
                total += needed;
                line.stops.push_back(stop.valve.id);
            }
        }
        if (total > 0) {
            line.amount = QString::number(total);
            m_lines.push_back(std::move(line));
        }
    }

    void addSet(LoadKind kind, const QString &what,
                const std::function<bool(const LoadStop &)> &needs)
    {
        LoadLine line;
        line.kind = kind;
        line.what = what;
        for (const LoadStop &stop : m_stops) {
            if (needs(stop)) {
                line.stops.push_back(stop.valve.id);
            }
        }
        if (!line.stops.empty()) {
            m_lines.push_back(std::move(line));
        }
    }

    /// One line for each different text that is not empty.
    void addByText(LoadKind kind, const QString &what,
                   const std::function<QString(const LoadStop &)> &textOf, bool isCounted)
    {
        QMap<QString, LoadLine> byText;
        for (const LoadStop &stop : m_stops) {
            if (const QString text = textOf(stop); !text.isEmpty()) {
                byText[text].stops.push_back(stop.valve.id);
            }
        }
        for (auto entry = byText.begin(); entry != byText.end(); ++entry) {
            LoadLine &line = entry.value();
            line.kind = kind;
            line.what = what.arg(entry.key());
            line.amount = isCounted ? QString::number(line.stops.size()) : QString();
            m_lines.push_back(std::move(line));
        }
    }

    const std::vector<LoadStop> &m_stops;
    UnitSystem m_units;
    LoadHabits m_habits;
    std::vector<LoadLine> m_lines;
};

} // namespace

std::vector<LoadLine> loadList(const std::vector<LoadStop> &stops, UnitSystem units,
                               const LoadHabits &habits)
{
    return LoadWriter(stops, units, habits).write();
}

} // namespace keyround
