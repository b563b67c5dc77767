// SPDX-License-Identifier: GPL-3.0-or-later
// What the session knows of repairs: the requests, and which valves were replaced.
#include "app/shell/session_cache.h"
#include "core/repairs/repair_book.h"
#include "core/storage/repair_store.h"

namespace keyround {

const std::vector<Replacement> &Session::replacements()
{
    if (!m_cache->replacements) {
        m_cache->replacements = isOpen() ? valueOr(m_project->repairs().replacements(), {})
                                         : std::vector<Replacement>{};
    }
    return *m_cache->replacements;
}

const RepairBook &Session::repairs()
{
    if (!m_cache->repairs) {
        std::vector<RepairEvent> events =
            isOpen() ? valueOr(m_project->repairs().events(), {}) : std::vector<RepairEvent>{};
        m_cache->repairs = std::make_shared<const RepairBook>(makeRepairBook(std::move(events)));
        for (const QString &number : m_cache->repairs->sharedNumbers) {
            Q_EMIT m_notifier.failed(tr("Two repair requests have the number %1, made on two "
                                        "laptops. Withdraw one and open it anew.")
                                         .arg(number));
        }
    }
    return *m_cache->repairs;
}

} // namespace keyround
