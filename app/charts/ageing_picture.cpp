// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/charts/figure_pictures.h"
#include "app/charts/group_looks.h"
#include "app/shell/style.h"
#include "core/reports/review_tables.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace keyround {

namespace {

QString yearsText(double years)
{
    return QString::number(years, 'f', years < 10 ? 1 : 0);
}

/// Two ages so fine that they do not read alike, as far as the grid goes.
std::pair<QString, QString> agesText(double from, double to)
{
    constexpr int finest = 2;
    std::pair<QString, QString> text{yearsText(from), yearsText(to)};
    for (int decimals = 1; decimals <= finest && text.first == text.second; ++decimals) {
        text = {QString::number(from, 'f', decimals), QString::number(to, 'f', decimals)};
    }
    return text;
}

/// What fails, and what holds before and after: so fine that the three add up and none reads as
/// nothing.
std::array<QString, 3> stepShares(const CurveStep &step, double before)
{
    constexpr int finest = 3;
    for (int decimals = 0;; ++decimals) {
        const double unit = std::pow(10.0, -decimals);
        const auto rounded = [unit](double share) { return std::llround(100.0 * share / unit); };
        const auto fails = rounded(before) - rounded(step.holdsAfter);
        if (decimals == finest || (fails > 0 && fails == rounded(step.mass))) {
            return {shareText(static_cast<double>(fails) * unit / 100.0, decimals),
                    shareText(before, decimals), shareText(step.holdsAfter, decimals)};
        }
    }
}

/// One group's curve: level lines where it is defined, boxes where it is not.
class GroupCurve
{
public:
    GroupCurve(const AgeingGroup &group, const GroupLook &look) : m_group(group), m_look(look)
    {
        m_line.kind = ChartSeries::Kind::Line;
        m_line.name =
            group.fromYears > 0
                ? chartSay("%1, from %2 years").arg(shortName(group), yearsText(group.fromYears))
                : shortName(group);
        m_line.colour = look.colour;
        m_line.stroke = look.stroke;
        m_line.thickness = 2.4;
        m_line.pattern = look.pattern; // for the key
        m_boxes.kind = ChartSeries::Kind::Boxes;
        m_boxes.colour = faint(look.colour, 60);
        m_boxes.pattern = look.pattern;
        walk();
    }

    void addBand(ChartPicture &picture) const
    {
        if (!m_group.band.empty()) {
            ChartSeries band;
            band.kind = ChartSeries::Kind::Area;
            band.name = chartSay("95 % band");
            band.colour = faint(m_look.colour, 28);
            band.stroke = Qt::DotLine;
            for (const BandPoint &point : m_group.band) {
                band.x.push_back(point.years);
                band.y.push_back(point.holds.from);
                band.y2.push_back(point.holds.to);
            }
            picture.series.push_back(std::move(band));
        }
    }
    void addBoxes(ChartPicture &picture) const { picture.series.push_back(m_boxes); }
    void addLine(ChartPicture &picture) const
    {
        picture.series.push_back(m_line);
        addExact(picture);
    }

    [[nodiscard]] const std::vector<ChartItem> &items() const { return m_items; }
    [[nodiscard]] const std::vector<size_t> &steps() const { return m_steps; }

private:
    void walk()
    {
        double at = m_group.fromYears; // of those that hold then
        double holds = 1;
        const std::vector<CurveStep> &steps = m_group.curve->steps;
        for (size_t i = 0; i < steps.size(); ++i) {
            const CurveStep &step = steps[i];
            addPoint(m_line, at, holds);
            addPoint(m_line, step.from, holds);
            addPoint(m_line, step.from, std::nan(""));
            const double end = std::isfinite(step.to) ? step.to : m_group.lastYears;
            if (std::isfinite(step.to)) {
                addBox(m_boxes, step.from, end, step.holdsAfter, holds);
                m_items.push_back(itemFor(step, holds));
                m_steps.push_back(i);
            }
            at = end;
            holds = std::isfinite(step.to) ? step.holdsAfter : holds;
        }
        if (at < m_group.lastYears) {
            addPoint(m_line, at, holds);
            addPoint(m_line, m_group.lastYears, holds);
        }
    }

    [[nodiscard]] ChartItem itemFor(const CurveStep &step, double before) const
    {
        ChartItem item;
        item.x = step.from;
        item.x2 = step.to;
        item.y = step.holdsAfter;
        item.y2 = before;
        const auto [from, to] = agesText(step.from, step.to);
        const auto [fails, holding, after] = stepShares(step, before);
        item.words = chartSay("%1\nBetween %2 and %3 years, %4 fail; when in between is not "
                              "known.\nHolding before: %5, after: %6")
                         .arg(m_group.name, from, to, fails, holding, after);
        return item;
    }

    void addExact(ChartPicture &picture) const
    {
        if (m_group.exact.empty()) {
            return;
        }
        ChartSeries exact;
        exact.kind = ChartSeries::Kind::Line;
        exact.name = chartSay("%1, exact times (Kaplan and Meier)").arg(m_group.name);
        exact.colour = look::ink;
        exact.thickness = 1.0;
        double holds = 1;
        addPoint(exact, 0, 1);
        for (const ExactStep &step : m_group.exact) {
            addPoint(exact, step.time, holds);
            addPoint(exact, step.time, step.holds);
            holds = step.holds;
        }
        addPoint(exact, m_group.lastYears, holds);
        picture.series.push_back(std::move(exact));
    }

    const AgeingGroup &m_group;
    const GroupLook &m_look;
    ChartSeries m_line;
    ChartSeries m_boxes;
    std::vector<ChartItem> m_items;
    std::vector<size_t> m_steps;
};

QString tooFewWords(const Ageing &figure)
{
    QStringList lines;
    for (const AgeingGroup &group : figure.groups) {
        if (lines.size() < 6) {
            lines << group.reading;
        }
    }
    if (lines.isEmpty()) {
        lines << chartSay("No valve has both an install year and a visit that turned it. Bring in "
                          "install years with the valves, and record rounds in the Truck.");
    }
    return lines.join(QLatin1Char('\n'));
}

} // namespace

QString shortName(const AgeingGroup &group)
{
    const QString common = QStringLiteral("valves installed ");
    return group.name.startsWith(common) ? group.name.mid(common.size()) : group.name;
}

AgeingPicture ageingPicture(const Ageing &figure)
{
    AgeingPicture made;
    ChartPicture &picture = made.picture;
    picture.fileStem = QStringLiteral("ageing");
    picture.title = figure.by == AgeingBy::All
                        ? chartSay("Share of valves that still hold, by age")
                        : chartSay("Share of valves that still hold, by age, for each %1")
                              .arg(wordFor(figure.by));
    picture.figures = ageingTable(figure);
    std::vector<size_t> drawn;
    size_t withCurve = 0;
    for (size_t i = 0; i < figure.groups.size(); ++i) {
        const bool has = figure.groups[i].curve.has_value();
        withCurve += has ? 1 : 0;
        if (has && drawn.size() < groupLooks.size()) {
            drawn.push_back(i);
        }
    }
    picture.note = chartSay("In a box the curve may fall anywhere: failures are known only to lie "
                            "between two visits.");
    if (std::ranges::any_of(drawn,
                            [&figure](size_t i) { return figure.groups[i].fromYears > 0; })) {
        picture.note +=
            QLatin1Char(' ') + chartSay("A curve is of those that hold where it begins.");
    }
    if (withCurve > drawn.size()) {
        picture.note +=
            QLatin1Char(' ') + (withCurve - drawn.size() == 1
                                    ? chartSay("A smaller group stands in the table only.")
                                    : chartSay("%1 smaller groups stand in the table only.")
                                          .arg(withCurve - drawn.size()));
    }
    double oldest = 0;
    std::vector<GroupCurve> curves;
    for (size_t place = 0; place < drawn.size(); ++place) {
        const AgeingGroup &group = figure.groups[drawn[place]];
        const GroupCurve &curve = curves.emplace_back(group, groupLooks[place]);
        for (size_t i = 0; i < curve.items().size(); ++i) {
            picture.items.push_back(curve.items()[i]);
            made.items.push_back({drawn[place], curve.steps()[i]});
        }
        oldest = std::max(oldest, group.lastYears);
        UnderAxisRow row;
        row.label = drawn.size() == 1 ? chartSay("under watch")
                                      : chartSay("watched: %1").arg(shortName(group));
        for (const RiskNumber &risk : group.atRisk) {
            row.at.push_back(risk.years);
            row.numbers << QString::number(risk.atRisk);
        }
        picture.underAxis.push_back(std::move(row));
    }
    // All boxes first, so that no group's box covers another's line.
    if (curves.size() == 1) {
        curves.front().addBand(picture);
    }
    for (const GroupCurve &curve : curves) {
        curve.addBoxes(picture);
    }
    for (const GroupCurve &curve : curves) {
        curve.addLine(picture);
    }
    picture.x = {
        chartSay("Age in years"), ChartAxis::Scale::Number, {}, 0, std::max(1.0, oldest * 1.02)};
    picture.y = {chartSay("Share that holds"), ChartAxis::Scale::Share, {}, 0, 1.02};
    if (drawn.empty()) {
        picture.note.clear();
        picture.emptyWords = tooFewWords(figure);
    }
    return made;
}

} // namespace keyround
