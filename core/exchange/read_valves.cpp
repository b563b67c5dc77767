// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/exchange/row_parsing.h"

#include <array>

namespace keyround {

namespace {

QString key(ValveField field)
{
    return QLatin1String(infoOf(field).key);
}

/// Reads one layer of valves, row by row.
class ValveReading
{
public:
    ValveReading(const LayerReader &reader, const ReadRequest &request)
        : m_reader(reader), m_request(request),
          m_depthUnit(unitFromHeading(reader.columns().value(key(ValveField::DepthToNut))))
    {
    }

    void take(const SourceRow &row)
    {
        const auto number = ownNumber(m_reader, row, m_seen);
        if (!number) {
            m_result.rejected.push_back(number.error());
            return;
        }
        const auto place = m_reader.place(row);
        if (!place) {
            m_result.rejected.push_back(place.error());
            return;
        }
        ValveRow taken;
        taken.valve.number = *number;
        taken.given.insert(ValveField::Number);
        if (place->has_value()) {
            taken.valve.place = **place;
            taken.given.insert(ValveField::Place);
        } else if (m_reader.hasPlaces()) {
            m_result.warnings.push_back(
                {row.number(), QString(), *number, QStringLiteral("the valve has no position")});
        }
        takeTexts(row, taken);
        takeValues(row, taken);
        m_result.rows.push_back(std::move(taken));
    }

    [[nodiscard]] Imported<ValveRow> &result() { return m_result; }
    [[nodiscard]] bool depthUnitAssumed() const
    {
        return m_depthSeen && m_depthUnit == LengthUnit::Unknown;
    }

private:
    void takeTexts(const SourceRow &row, ValveRow &taken)
    {
        const std::array texts{
            std::pair{ValveField::Address, &Valve::address},
            std::pair{ValveField::Ties, &Valve::ties},
            std::pair{ValveField::Nut, &Valve::nut},
            std::pair{ValveField::Lid, &Valve::lid},
            std::pair{ValveField::Surface, &Valve::surface},
            std::pair{ValveField::Zone, &Valve::zone},
            std::pair{ValveField::Remarks, &Valve::remarks},
        };
        for (const auto &[field, member] : texts) {
            const QString text = row.text(key(field));
            if (!text.isEmpty()) {
                taken.valve.*member = text;
                taken.given.insert(field);
            }
        }
        // "N" in this column says that nobody critical hangs on the valve.
        const QString critical = row.text(key(ValveField::CriticalCustomers));
        if (!critical.isEmpty()) {
            const auto plain = yesOrNo(critical);
            taken.valve.criticalCustomers = plain == false  ? QString()
                                            : plain == true ? QStringLiteral("yes")
                                                            : critical;
            taken.given.insert(ValveField::CriticalCustomers);
        }
    }

    template <typename Parser, typename Member>
    void set(const SourceRow &row, ValveRow &taken, ValveField field, Parser parse, Member member)
    {
        const auto value = parsedField(m_reader, row, key(field), m_result.warnings, parse);
        if (value) {
            taken.valve.*member = *value;
            taken.given.insert(field);
        }
    }

    void takeValues(const SourceRow &row, ValveRow &taken)
    {
        set(
            row, taken, ValveField::Size,
            [this](const QString &text) { return parseSize(text, m_request.bareSize); },
            &Valve::size);
        set(row, taken, ValveField::Type, parseValveType, &Valve::type);
        set(row, taken, ValveField::ListedTurns, parseTurns, &Valve::listedTurns);
        set(row, taken, ValveField::Closes, parseClosingDirection, &Valve::closes);
        set(row, taken, ValveField::Normally, parseNormalPosition, &Valve::normally);
        set(row, taken, ValveField::Role, parseValveRole, &Valve::role);
        set(row, taken, ValveField::InstallYear, parseYear, &Valve::installYear);
        set(
            row, taken, ValveField::DepthToNut,
            [this](const QString &text) { return parseLength(text, m_depthUnit); },
            &Valve::depthToNut);
        set(row, taken, ValveField::Retired, parseRetired, &Valve::retired);
        m_depthSeen = m_depthSeen || taken.valve.depthToNut.has_value();
    }

    static Result<std::optional<bool>> parseRetired(const QString &text)
    {
        const auto plain = yesOrNo(text);
        if (!plain) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("\"%1\" says neither yes nor no.").arg(text));
        }
        return plain;
    }

    const LayerReader &m_reader;
    const ReadRequest &m_request;
    LengthUnit m_depthUnit;
    bool m_depthSeen = false;
    FirstOfEach m_seen;
    Imported<ValveRow> m_result;
};

} // namespace

Result<Imported<ValveRow>> readValves(const ReadRequest &request, const Progress &progress)
{
    auto reader = LayerReader::open(LayerKind::Valves, request);
    if (!reader) {
        return tl::unexpected(reader.error());
    }
    ValveReading reading(*reader, request);
    Imported<ValveRow> &result = reading.result();
    const Status read = reader->readRows(progress, result.rejected,
                                         [&reading](const SourceRow &row) { reading.take(row); });
    if (!read) {
        return tl::unexpected(read.error());
    }
    if (reading.depthUnitAssumed()) {
        result.warnings.push_back(
            {0, reader->columns().value(key(ValveField::DepthToNut)), QString(),
             QStringLiteral("the heading names no unit; bare depths were taken as feet")});
    }
    result.warnings.insert(result.warnings.begin(), reader->notes().begin(), reader->notes().end());
    result.columns = reader->columns();
    return result;
}

} // namespace keyround
