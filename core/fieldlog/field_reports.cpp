// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/field_reports.h"

#include <QStringList>

#include <algorithm>

namespace keyround {

PlaceEvidence evidenceOf(const PositionFix &fix)
{
    return {true, fix.quality, fix.source, fix.accuracy, fix.satellites};
}

QString wordsFor(const PlaceEvidence &evidence, UnitSystem units)
{
    if (!evidence.isFix) {
        return QStringLiteral("pointed at on the map");
    }
    QStringList words{wordFor(evidence.quality)};
    if (evidence.satellites) {
        words << QStringLiteral("%1 satellites").arg(*evidence.satellites);
    }
    if (evidence.accuracy) {
        words << QStringLiteral("about %1").arg(lengthText(*evidence.accuracy, units));
    }
    if (evidence.source != FixSource::Receiver) {
        words << QStringLiteral("from the %1").arg(wordFor(evidence.source));
    }
    return words.join(QStringLiteral(", "));
}

std::optional<Metres> moveOf(const PlaceProposal &proposal)
{
    return proposal.listed ? std::optional(distanceBetween(*proposal.listed, proposal.proposed))
                           : std::nullopt;
}

bool isWorthProposing(const std::optional<GeoPoint> &listed, const PositionFix &fix)
{
    constexpr Metres unsaid{3};
    if (!isMeasured(fix.quality) || !fix.place.isValid()) {
        return false;
    }
    return !listed || distanceBetween(*listed, fix.place) > fix.accuracy.value_or(unsaid);
}

QString wordFor(Decided decided)
{
    switch (decided) {
    case Decided::Open:
        return QStringLiteral("waits for the office");
    case Decided::Accepted:
        return QStringLiteral("accepted");
    case Decided::Refused:
        break;
    }
    return QStringLiteral("refused");
}

QString keyFor(Decided decided)
{
    return decided == Decided::Open ? QStringLiteral("open") : wordFor(decided);
}

std::optional<Decided> decidedFromKey(const QString &key)
{
    for (const Decided decided : {Decided::Open, Decided::Accepted, Decided::Refused}) {
        if (key == keyFor(decided)) {
            return decided;
        }
    }
    return std::nullopt;
}

Decided decidedOf(const std::vector<ReportDecision> &decisions)
{
    return decisions.empty() ? Decided::Open : decisions.back().decided;
}

const ReportedPlace *FieldReports::find(const ProposalId &id) const
{
    const auto found =
        std::ranges::find(places, id, [](const ReportedPlace &one) { return one.proposal.id; });
    return found == places.end() ? nullptr : &*found;
}

const ReportedValve *FieldReports::find(const CandidateId &id) const
{
    const auto found =
        std::ranges::find(valves, id, [](const ReportedValve &one) { return one.candidate.id; });
    return found == valves.end() ? nullptr : &*found;
}

std::size_t FieldReports::openCount() const
{
    const auto isOpen = [](const auto &one) { return decidedOf(one.decisions) == Decided::Open; };
    return static_cast<std::size_t>(std::ranges::count_if(places, isOpen) +
                                    std::ranges::count_if(valves, isOpen));
}

} // namespace keyround
