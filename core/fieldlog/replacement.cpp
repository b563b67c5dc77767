// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/fieldlog/replacement.h"

#include <QSet>

#include <algorithm>
#include <tuple>

namespace keyround {

std::vector<Replacement> standingReplacements(std::vector<Replacement> all)
{
    // Newest first, so that a row which takes another back is met before that one, and may itself
    // have been taken back.
    std::ranges::sort(all, [](const Replacement &a, const Replacement &b) {
        return std::tie(b.stamp, b.id) < std::tie(a.stamp, a.id);
    });
    QSet<ReplacementId> seen;
    QSet<ReplacementId> undone;
    QSet<std::pair<QUuid, QDate>> days;
    std::vector<Replacement> standing;
    for (Replacement &one : all) {
        if (undone.contains(one.id) || seen.contains(one.id)) {
            continue;
        }
        seen.insert(one.id);
        if (!one.undoes.isNull()) {
            undone.insert(one.undoes);
            continue;
        }
        const std::pair<QUuid, QDate> day(one.valve.uuid, one.on);
        if (one.on.isValid() && !days.contains(day)) {
            days.insert(day);
            standing.push_back(std::move(one));
        }
    }
    std::ranges::sort(standing, [](const Replacement &a, const Replacement &b) {
        return std::tie(a.on, a.stamp, a.id) < std::tie(b.on, b.stamp, b.id);
    });
    return standing;
}

} // namespace keyround
