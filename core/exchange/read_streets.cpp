// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/line_keys.h"
#include "core/exchange/row_parsing.h"
#include "core/exchange/street_words.h"

#include <cmath>

namespace keyround {

namespace {

class StreetReading
{
public:
    explicit StreetReading(const LayerReader &reader)
        : m_reader(reader), m_isOsm(qstrcmp(reader.format().driver, "OSM") == 0),
          m_speedUnit(speedUnitFromHeading(reader.columns().value(QStringLiteral("speed"))))
    {
    }

    void take(const SourceRow &row)
    {
        if (m_isOsm && row.tag("highway").isEmpty()) {
            ++m_noStreets; // a river or a fence
            return;
        }
        Street street;
        street.name = row.text(QStringLiteral("name"));
        street.junctions = m_isOsm ? JunctionRule::SharedNodes : JunctionRule::EndPoints;
        takeClass(row, street);
        takeOneWay(row, street);
        street.metresPerSecond = parsedField(
            m_reader, row, QStringLiteral("speed"), m_result.warnings, [this](const QString &text) {
                m_bareSpeedSeen = m_bareSpeedSeen || !speedUnitFromHeading(text);
                return parseSpeed(text, bareSpeedUnit());
            });
        takeLanes(row, street);
        street.drivable = street.kind != StreetClass::Path && isOpen(row);
        takeLines(m_reader, row, QStringLiteral("key"), m_keys, m_result,
                  [this, &street](const QString &key, const GeoLine &line) {
                      street.key = key;
                      street.line = line;
                      m_result.rows.push_back(street);
                  });
    }

    [[nodiscard]] Imported<Street> finished()
    {
        std::vector<RowNote> notes = m_reader.notes();
        const auto whole = [&notes](const QString &column, const QString &value,
                                    const QString &text) {
            notes.push_back({0, column, value, text});
        };
        if (m_noStreets > 0) {
            whole(QString(), QString(),
                  QStringLiteral("%1 ways that are no streets were left out").arg(m_noStreets));
        }
        if (m_bareSpeedSeen && !m_isOsm && !m_speedUnit) {
            whole(
                m_reader.columns().value(QStringLiteral("speed")), QString(),
                QStringLiteral("neither heading nor cells name a unit; speeds were taken as mph"));
        }
        for (auto it = m_oddClasses.constBegin(); it != m_oddClasses.constEnd(); ++it) {
            whole(m_reader.columns().value(QStringLiteral("class")), it.key(),
                  QStringLiteral("this street class is not known (%1 rows); they came in without a "
                                 "class")
                      .arg(it.value()));
        }
        m_result.warnings.insert(m_result.warnings.begin(), notes.begin(), notes.end());
        m_result.columns = m_reader.columns();
        return std::move(m_result);
    }

    [[nodiscard]] std::vector<RowNote> &rejected() { return m_result.rejected; }

private:
    [[nodiscard]] SpeedUnit bareSpeedUnit() const
    {
        // A bare number in OpenStreetMap is km/h by its own rule; in a US layer it is mph.
        return m_speedUnit.value_or(m_isOsm ? SpeedUnit::KilometresPerHour
                                            : SpeedUnit::MilesPerHour);
    }

    void takeClass(const SourceRow &row, Street &street)
    {
        const QString word = row.text(QStringLiteral("class"));
        if (word.isEmpty()) {
            return;
        }
        street.kind = streetClassFrom(word);
        if (street.kind == StreetClass::Unknown) {
            ++m_oddClasses[word];
        }
    }

    void takeOneWay(const SourceRow &row, Street &street)
    {
        const QString word = row.text(QStringLiteral("one_way"));
        const auto oneWay = oneWayFrom(word);
        street.oneWay = oneWay.value_or(OneWay::No);
        if (!oneWay) {
            m_result.warnings.push_back(m_reader.note(
                row, QStringLiteral("one_way"),
                QStringLiteral("not understood as a one-way mark; taken as two-way")));
        }
        // OpenStreetMap: roundabouts and motorways are one-way without saying so.
        const QString junction = row.tag("junction");
        const bool implied = junction == QLatin1String("roundabout") ||
                             junction == QLatin1String("circular") ||
                             row.tag("highway") == QLatin1String("motorway");
        if (m_isOsm && word.isEmpty() && implied) {
            street.oneWay = OneWay::Forward;
        }
    }

    /// For the work zone; a cell that is not understood is noted and left out.
    void takeLanes(const SourceRow &row, Street &street)
    {
        constexpr int most = 12; // more is no count of lanes
        street.lanes = parsedField(
            m_reader, row, QStringLiteral("lanes"), m_result.warnings,
            [](const QString &text) -> Result<std::optional<int>> {
                bool isNumber = false;
                const double lanes = text.toDouble(&isNumber);
                if (!isNumber || lanes < 0 || lanes > most || lanes != std::floor(lanes)) {
                    return fail(ErrorCode::BadInput,
                                QStringLiteral("\"%1\" is no count of lanes.").arg(text));
                }
                return lanes > 0 ? std::optional(static_cast<int>(lanes)) : std::nullopt;
            });
        const QString width = QStringLiteral("lane_width");
        street.laneWidth = parsedField(
            m_reader, row, width, m_result.warnings, [this, &width](const QString &text) {
                return parseLength(text, unitFromHeading(m_reader.columns().value(width)));
            });
        const QString divided = row.text(QStringLiteral("divided"));
        if (!divided.isEmpty()) {
            street.isDivided = yesOrNo(divided);
        }
    }

    /// OpenStreetMap: the tag for the narrowest kind of vehicle decides.
    [[nodiscard]] bool isOpen(const SourceRow &row) const
    {
        if (!m_isOsm) {
            return drivableFrom(row.text(QStringLiteral("access"))).value_or(true);
        }
        for (const char *tag : {"motorcar", "motor_vehicle", "vehicle", "access"}) {
            const auto drivable = drivableFrom(row.tag(tag));
            if (drivable) {
                return *drivable;
            }
        }
        return true;
    }

    const LayerReader &m_reader;
    bool m_isOsm;
    std::optional<SpeedUnit> m_speedUnit;
    bool m_bareSpeedSeen = false;
    qint64 m_noStreets = 0;
    QMap<QString, int> m_oddClasses;
    LineKeys m_keys;
    Imported<Street> m_result;
};

} // namespace

Result<Imported<Street>> readStreets(const ReadRequest &request, const Progress &progress)
{
    auto reader = LayerReader::open(LayerKind::Streets, request);
    if (!reader) {
        return tl::unexpected(reader.error());
    }
    StreetReading reading(*reader);
    const Status read = reader->readRows(progress, reading.rejected(),
                                         [&reading](const SourceRow &row) { reading.take(row); });
    if (!read) {
        return tl::unexpected(read.error());
    }
    return reading.finished();
}

} // namespace keyround
