// SPDX-License-Identifier: GPL-3.0-or-later
// What a recording program said is stored, line by line, and the comparison with what is there
// after a fault. A line is written when the call has returned, so every line must hold:
//   V id hash    a visit, with the hash of its content
//   D valve n    the half-typed stop of this valve stands at n
//   L id         a notice in the log
//   P id         a photo: its row and its picture
//   B path       a back-up
//   R words      something was refused (nothing to hold)
#pragma once

#include "core/storage/project.h"

#include <QByteArrayList>
#include <QHash>
#include <QSet>

namespace keyround {

class Ledger
{
public:
    /// Takes lines as they came out of the pipe; a last one without its end was never said.
    void take(const QByteArray &output);

    /// What does not hold in the file, each in words; empty when all does.
    [[nodiscard]] QStringList missingIn(const QString &path) const;

    /// Every promise but drafts, which the next stop replaces.
    [[nodiscard]] qsizetype promises() const
    {
        return m_visits.size() + m_notices.size() + m_photos.size() + m_backUps.size();
    }
    [[nodiscard]] int drafts() const { return m_drafts; }
    [[nodiscard]] int refusals() const { return m_refusals; }

private:
    void takeLine(const QByteArray &line);
    [[nodiscard]] QStringList missingIn(Project &project) const;

    QHash<QString, QString> m_visits; ///< id to hash
    QSet<QString> m_notices;
    QSet<QString> m_photos;
    QStringList m_backUps;
    // The last thing said: a draft must stand at this or later, or have become a visit.
    QString m_draftValve;
    int m_draftAt = 0;
    int m_drafts = 0;
    int m_refusals = 0;
};

} // namespace keyround
