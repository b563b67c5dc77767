// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/workzone/set_up.h"

#include <algorithm>
#include <cmath>

namespace keyround {

namespace {

constexpr Feet longestLength{10000}; // of what a person types
constexpr Feet minorEncroachment{2}; // "a foot or two" into the lane

const QStringList &usualCautions()
{
    static const QStringList cautions{
        QStringLiteral("This helps a trained person decide. The road authority's rules, the permit "
                       "and the person on site decide what is set up."),
        QStringLiteral("Ways for people on foot and on bicycles, driveways, hills, bends "
                       "and weather are not known to the program: look before you set up.")};
    return cautions;
}

/// How the applications differ in what is laid out.
struct Layout
{
    std::optional<TaperKind> upstream;
    Feet closedWidth;
    bool fromCentre = false;
    bool hasBuffer = false;
    bool hasDownstream = false;
    int approaches = 1;
    std::vector<QString> legends; ///< of one approach, nearest to the work first
};

// Legends are the usual ones of such work (from memory), not figures of a table.
const QString roadWork = QStringLiteral("ROAD WORK AHEAD");
const QString shoulderWork = QStringLiteral("SHOULDER WORK");
const QString oneLaneRoad = QStringLiteral("ONE LANE ROAD AHEAD");
const QString flaggerAhead = QStringLiteral("Flagger (symbol)");
const QString yieldSign = QStringLiteral("YIELD TO ONCOMING TRAFFIC");
const QString laneClosed = QStringLiteral("LANE CLOSED AHEAD");
const QString laneEnds = QStringLiteral("Lane ends (symbol)");

Layout layoutOf(const Site &site, const ApplicationChoice &choice)
{
    const StreetFacts &street = site.street;
    const Feet lane = street.laneWidth.value_or(Feet{12});
    const Feet shoulder = street.shoulderWidth.value_or(Feet{0});
    using enum TaperKind;
    switch (choice.application.number) {
    case 1:
        return {{}, {0}, false, false, false, 1, {roadWork}};
    case 3:
        return {Shoulder, shoulder, false, false, false, 1, {shoulderWork, roadWork}};
    case 4:
        return {{}, shoulder, false, false, false, 1, {shoulderWork}};
    case 6:
        return {Shoulder,
                {shoulder.value + minorEncroachment.value},
                false,
                true,
                false,
                1,
                {shoulderWork, roadWork}};
    case 10:
        return {OneLaneTwoWay, lane, false, true, true, 2, {flaggerAhead, oneLaneRoad, roadWork}};
    case 11:
        return {OneLaneTwoWay, lane, false, true, true, 2, {yieldSign, oneLaneRoad, roadWork}};
    case 15:
        return {Shifting, {lane.value / 2.0}, true, true, true, 2, {roadWork}};
    case 18:
        return {OneLaneTwoWay, lane, false, true, true, 2, {oneLaneRoad, roadWork}};
    case 26:
        return {Shifting, {lane.value / 2.0}, true, false, true, 4, {roadWork}};
    case 27:
        return {Shifting, lane, false, false, true, 4, {roadWork}};
    case 21:
    case 22:
        return {Merging, lane, false, true, true, 4, {laneClosed, roadWork}};
    default:
        return {Merging, lane, false, true, true, 1, {laneEnds, laneClosed, roadWork}};
    }
}

/// A lane before or past an intersection of a street with one lane each way is passed in turn.
void passInTurn(const Site &site, Layout &layout, int &flaggers)
{
    const int lanes = site.street.lanes.value_or(2);
    const bool oneEachWay = !site.street.isOneWay.value_or(false) && lanes <= 2;
    if (oneEachWay && layout.upstream == TaperKind::Merging) {
        layout.upstream = TaperKind::OneLaneTwoWay;
        layout.legends = {flaggerAhead, roadWork};
        flaggers = 2;
    }
}

QString taperWords(TaperKind kind, Feet width, double mph)
{
    if (kind == TaperKind::OneLaneTwoWay || kind == TaperKind::Downstream) {
        return QStringLiteral("published: 50 to 100 ft");
    }
    const QString rule = mph <= 40.0 ? QStringLiteral("W S x S / 60") : QStringLiteral("W S");
    const QString share = kind == TaperKind::Shifting   ? QStringLiteral("half of ")
                          : kind == TaperKind::Shoulder ? QStringLiteral("a third of ")
                                                        : QString();
    return QStringLiteral("%1L = %2, W = %3 ft, S = %4 mph")
        .arg(share, rule)
        .arg(width.value)
        .arg(mph);
}

/// One cone stands at the upstream end; each part then ends with one of its own.
int countCones(SetUp &setUp)
{
    if (setUp.width.closed.value <= 0.0) {
        return 0; // nothing is taken from the traffic
    }
    constexpr int fewest = 4; // the corners of the work space (common practice, no source)
    int cones = 1;
    for (ZonePart &part : setUp.parts) {
        part.cones = conesAlong(part.length, part.spacing) - 1;
        cones += part.cones;
    }
    // Traffic passes on both sides of work in the middle: both sides are marked.
    return std::max(fewest, setUp.width.fromCentre ? 2 * cones : cones);
}

class Builder
{
public:
    Builder(const Site &site, const SetUpHabits &habits, ApplicationChoice choice)
        : m_site(site), m_habits(habits), m_mph(*site.street.mph), m_choice(std::move(choice)),
          m_layout(layoutOf(site, m_choice))
    {
        m_setUp.flaggers = m_choice.needsFlaggers ? 2 : 0;
        passInTurn(site, m_layout, m_setUp.flaggers);
    }

    Result<SetUp> build()
    {
        m_setUp.application = m_choice.application;
        m_setUp.why = m_choice.why;
        m_setUp.doubts = m_choice.doubts;
        m_setUp.cautions = usualCautions();
        m_setUp.duration = durationOf(m_site.minutes, m_site.isDark);
        m_setUp.width = {m_layout.closedWidth, m_layout.fromCentre};
        Status laid = addUpstream().and_then([this] { return addBuffer(); });
        if (!laid) {
            return tl::unexpected(laid.error());
        }
        addWorkSpace();
        addSigns();
        countPeopleAndMinutes();
        return std::move(m_setUp);
    }

private:
    Status addUpstream()
    {
        if (!m_layout.upstream || m_layout.closedWidth.value <= 0.0) {
            return {};
        }
        const TaperKind kind = *m_layout.upstream;
        const Result<TaperLength> full = taperLength(m_layout.closedWidth, m_mph);
        if (!full) {
            return tl::unexpected(full.error());
        }
        if (full->isBetweenRules && kind != TaperKind::OneLaneTwoWay) {
            m_setUp.doubts << QStringLiteral("Between 40 and 45 mph the published formula is not "
                                             "defined; the longer taper was taken.");
        }
        addTaper(kind, shortestTaper(kind, full->full));
        return {};
    }

    Status addBuffer()
    {
        if (!m_layout.hasBuffer) {
            return {};
        }
        return stoppingSightDistance(m_mph).map([this](Feet length) {
            m_setUp.parts.push_back(
                {ZonePart::Kind::Buffer, TaperKind::Merging, length, tangentSpacing(m_mph), 0,
                 QStringLiteral("stopping sight distance at %1 mph").arg(m_mph)});
        });
    }

    void addWorkSpace()
    {
        m_setUp.parts.push_back({ZonePart::Kind::WorkSpace, TaperKind::Merging, m_habits.workSpace,
                                 tangentSpacing(m_mph), 0,
                                 QStringLiteral("the utility's own length")});
        if (m_layout.hasDownstream) {
            addTaper(TaperKind::Downstream, shortestTaper(TaperKind::Downstream, {0}));
        }
        m_setUp.cones = countCones(m_setUp);
    }

    void addTaper(TaperKind kind, Feet length)
    {
        m_setUp.parts.push_back({ZonePart::Kind::Taper, kind, length, taperSpacing(kind, m_mph), 0,
                                 taperWords(kind, m_layout.closedWidth, m_mph)});
    }

    void addSigns()
    {
        const SignSpacing spacing = advanceSignSpacing(*m_site.street.setting);
        const Feet steps[]{spacing.a, spacing.b, spacing.c};
        for (int approach = 0; approach < m_layout.approaches; ++approach) {
            Feet before{0};
            for (std::size_t i = 0; i < m_layout.legends.size(); ++i) {
                before.value += steps[i].value;
                m_setUp.signs.push_back({m_layout.legends[i], before, approach});
            }
        }
    }

    void countPeopleAndMinutes()
    {
        m_setUp.people = m_habits.workers + m_setUp.flaggers;
        const double minutes = m_habits.minutesASign * static_cast<double>(m_setUp.signs.size()) +
                               m_habits.minutesACone * m_setUp.cones;
        m_setUp.setUpMinutes = minutes;
        m_setUp.takeDownMinutes = minutes;
    }

    const Site &m_site;
    const SetUpHabits &m_habits;
    double m_mph;
    ApplicationChoice m_choice;
    Layout m_layout;
    SetUp m_setUp;
};

Status checkOverride(const SetUpOverride &change)
{
    for (const std::optional<int> &count : {change.cones, change.flaggers, change.people}) {
        if (count && *count < 0) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("A count of cones, signs, flaggers or people cannot be "
                                       "below zero."));
        }
    }
    for (const std::optional<Feet> &length : {change.taper, change.buffer}) {
        if (length && !(length->value >= 0 && length->value <= longestLength.value)) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("A taper or buffer is from 0 to %1 ft long.")
                            .arg(longestLength.value));
        }
    }
    if (change.application && applicationOf(*change.application) == nullptr) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Typical application %1 is not one that is offered here.")
                        .arg(*change.application));
    }
    if (change.by.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Say who changes the set-up: the name stands on the sheet."));
    }
    return {};
}

/// Puts other tapers and buffers in; what was changed goes into `what`.
void changeLengths(SetUp &setUp, const SetUpOverride &change, QStringList &what)
{
    const auto take = [&](ZonePart &part, const std::optional<Feet> &value, const QString &name) {
        if (!value || *value == part.length) {
            return;
        }
        what << QStringLiteral("%1: %2 ft, worked out %3 ft")
                    .arg(name)
                    .arg(value->value)
                    .arg(part.length.value);
        if (*value < part.length) {
            setUp.doubts
                << QStringLiteral("The %1 is shorter than the published figure.").arg(name);
        }
        part.length = *value;
    };
    for (ZonePart &part : setUp.parts) {
        if (part.kind == ZonePart::Kind::Buffer) {
            take(part, change.buffer, QStringLiteral("buffer"));
        } else if (part.kind == ZonePart::Kind::Taper && part.taper != TaperKind::Downstream) {
            take(part, change.taper, QStringLiteral("taper"));
        }
    }
}

} // namespace

int conesAlong(Feet length, Feet spacing)
{
    constexpr double noise = 1e-6;
    return 1 + static_cast<int>(std::ceil(length.value / spacing.value - noise));
}

Result<SetUp> workOutSetUp(const Site &site, const SetUpHabits &habits)
{
    Result<ApplicationChoice> choice = chooseApplication(site);
    if (!choice) {
        return tl::unexpected(choice.error());
    }
    return Builder(site, habits, std::move(*choice)).build();
}

Result<SetUp> applyOverride(SetUp setUp, const SetUpOverride &change)
{
    if (Status status = checkOverride(change); !status) {
        return tl::unexpected(status.error());
    }
    SetUp::Changed changed{change.by, change.why, {}};
    QStringList lengths;
    changeLengths(setUp, change, lengths);
    // Other lengths want other cones, and flaggers are people, unless those are said too.
    SetUpOverride counts = change;
    if (!lengths.isEmpty() && !counts.cones) {
        counts.cones = countCones(setUp);
    }
    if (change.flaggers && !counts.people) {
        counts.people = setUp.people + *change.flaggers - setUp.flaggers;
    }
    const auto take = [&changed](const QString &what, const std::optional<int> &value,
                                 int &target) {
        if (value && *value != target) {
            changed.what
                << QStringLiteral("%1: %2, worked out %3").arg(what).arg(*value).arg(target);
            target = *value;
        }
    };
    take(QStringLiteral("cones"), counts.cones, setUp.cones);
    take(QStringLiteral("flaggers"), counts.flaggers, setUp.flaggers);
    take(QStringLiteral("people"), counts.people, setUp.people);
    changed.what += lengths;
    if (change.application && *change.application != setUp.application.number) {
        changed.what << QStringLiteral("typical application: %1, offered %2")
                            .arg(*change.application)
                            .arg(setUp.application.number);
        setUp.doubts << QStringLiteral("Lengths, signs and cones are still those that were worked "
                                       "out for typical application %1.")
                            .arg(setUp.application.number);
        setUp.application = *applicationOf(*change.application);
    }
    if (!changed.what.isEmpty()) {
        setUp.changed = std::move(changed);
    }
    return setUp;
}

} // namespace keyround
