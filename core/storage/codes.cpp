// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/storage/codes.h"

#include <array>

namespace keyround {

namespace {

template <typename Value> struct Entry
{
    Value value;
    const char *key;
};
// Clang 14 does not work this out for an aggregate by itself.
template <typename Value> Entry(Value, const char *) -> Entry<Value>;

constexpr std::array valveTypes{
    Entry{ValveType::Unknown, "unknown"},
    Entry{ValveType::Gate, "gate"},
    Entry{ValveType::GearedGate, "geared_gate"},
    Entry{ValveType::Butterfly, "butterfly"},
    Entry{ValveType::Ball, "ball"},
    Entry{ValveType::Plug, "plug"},
    Entry{ValveType::Other, "other"},
};
constexpr std::array closingDirections{
    Entry{ClosingDirection::Clockwise, "clockwise"},
    Entry{ClosingDirection::Counterclockwise, "counterclockwise"},
};
constexpr std::array normalPositions{
    Entry{NormalPosition::Open, "open"},
    Entry{NormalPosition::Closed, "closed"},
};
constexpr std::array valveRoles{
    Entry{ValveRole::MainLine, "main_line"}, Entry{ValveRole::HydrantLead, "hydrant_lead"},
    Entry{ValveRole::Boundary, "boundary"},  Entry{ValveRole::BlowOff, "blow_off"},
    Entry{ValveRole::Bypass, "bypass"},      Entry{ValveRole::FireLine, "fire_line"},
    Entry{ValveRole::Service, "service"},    Entry{ValveRole::Other, "other"},
};
constexpr std::array streetClasses{
    Entry{StreetClass::Unknown, "unknown"},
    Entry{StreetClass::Motorway, "motorway"},
    Entry{StreetClass::Arterial, "arterial"},
    Entry{StreetClass::Collector, "collector"},
    Entry{StreetClass::Residential, "residential"},
    Entry{StreetClass::ServiceRoad, "service_road"},
    Entry{StreetClass::Path, "path"},
};
constexpr std::array oneWays{
    Entry{OneWay::No, "no"},
    Entry{OneWay::Forward, "forward"},
    Entry{OneWay::Backward, "backward"},
};
constexpr std::array junctionRules{
    Entry{JunctionRule::SharedNodes, "shared_nodes"},
    Entry{JunctionRule::EndPoints, "end_points"},
};
constexpr std::array roundStates{
    Entry{RoundState::Planned, "planned"},
    Entry{RoundState::UnderWay, "under_way"},
    Entry{RoundState::Finished, "finished"},
};
constexpr std::array passDirections{
    Entry{PassDirection::Closing, "closing"},
    Entry{PassDirection::Opening, "opening"},
};
constexpr std::array positions{
    Entry{Position::NotSeen, "not_seen"},
    Entry{Position::Open, "open"},
    Entry{Position::Closed, "closed"},
    Entry{Position::PartOpen, "part_open"},
};
constexpr std::array unitSystems{
    Entry{UnitSystem::Us, "us"},
    Entry{UnitSystem::Metric, "metric"},
};

template <typename Table, typename Value> QString keyIn(const Table &table, Value value)
{
    for (const auto &entry : table) {
        if (entry.value == value) {
            return QString::fromLatin1(entry.key);
        }
    }
    Q_ASSERT_X(false, "storedKey", "a kind without a key");
    return {};
}

template <typename Table, typename Value>
Status valueIn(const Table &table, const QString &key, Value &value)
{
    for (const auto &entry : table) {
        if (key == QLatin1String(entry.key)) {
            value = entry.value;
            return {};
        }
    }
    return fail(ErrorCode::Damaged,
                QStringLiteral("The project file holds the kind \"%1\", which does not exist. The "
                               "file is damaged: open the newest back-up.")
                    .arg(key));
}

} // namespace

// One pair of functions a table.
// NOLINTBEGIN(bugprone-macro-parentheses)
#define KEYROUND_STORED_KEYS(Type, table)                                                          \
    QString storedKey(Type value)                                                                  \
    {                                                                                              \
        return keyIn(table, value);                                                                \
    }                                                                                              \
    Status fromKey(const QString &key, Type &value)                                                \
    {                                                                                              \
        return valueIn(table, key, value);                                                         \
    }
// NOLINTEND(bugprone-macro-parentheses)

KEYROUND_STORED_KEYS(ValveType, valveTypes)
KEYROUND_STORED_KEYS(ClosingDirection, closingDirections)
KEYROUND_STORED_KEYS(NormalPosition, normalPositions)
KEYROUND_STORED_KEYS(ValveRole, valveRoles)
KEYROUND_STORED_KEYS(StreetClass, streetClasses)
KEYROUND_STORED_KEYS(OneWay, oneWays)
KEYROUND_STORED_KEYS(JunctionRule, junctionRules)
KEYROUND_STORED_KEYS(RoundState, roundStates)
KEYROUND_STORED_KEYS(PassDirection, passDirections)
KEYROUND_STORED_KEYS(Position, positions)
KEYROUND_STORED_KEYS(UnitSystem, unitSystems)

#undef KEYROUND_STORED_KEYS

} // namespace keyround
