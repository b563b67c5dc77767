// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/ledger.h"

#include "core/storage/photo_store.h"
#include "core/storage/shut_store.h"
#include "core/storage/visit_store.h"

#include <QFileInfo>

#include <algorithm>

namespace keyround {

void Ledger::take(const QByteArray &output)
{
    QByteArrayList lines = output.split('\n');
    lines.removeLast(); // what follows the last line end: nothing, or a line that was cut
    for (const QByteArray &line : lines) {
        takeLine(line);
    }
}

void Ledger::takeLine(const QByteArray &line)
{
    const QStringList words = QString::fromUtf8(line).split(QLatin1Char(' '));
    const QString kind = words.front();
    m_draftValve.clear();
    if (kind == QLatin1String("V")) {
        m_visits.insert(words.at(1), words.at(2));
    } else if (kind == QLatin1String("D")) {
        m_draftValve = words.at(1);
        m_draftAt = words.at(2).toInt();
        ++m_drafts;
    } else if (kind == QLatin1String("L")) {
        m_notices.insert(words.at(1));
    } else if (kind == QLatin1String("P")) {
        m_photos.insert(words.at(1));
    } else if (kind == QLatin1String("B")) {
        m_backUps << QString::fromUtf8(line.mid(2));
    } else if (kind == QLatin1String("R")) {
        ++m_refusals;
    }
}

QStringList Ledger::missingIn(const QString &path) const
{
    const auto project = Project::open(path);
    if (!project) {
        return {QStringLiteral("does not open: ") + project.error().message};
    }
    QStringList missing = missingIn(**project);
    for (const QString &copy : m_backUps) {
        if (!QFileInfo::exists(copy)) {
            missing << QStringLiteral("back-up ") + copy;
        } else if (const auto opened = Project::open(copy); !opened) {
            missing << opened.error().message;
        }
    }
    return missing;
}

QStringList Ledger::missingIn(Project &project) const
{
    const auto faults = project.verify();
    QStringList missing = faults ? *faults : QStringList{faults.error().message};
    QHash<QString, QString> stored;
    bool becameVisit = false;
    for (const Visit &visit : project.visits().all().value_or(std::vector<Visit>{})) {
        stored.insert(visit.id.text(), contentHash(visit));
        becameVisit = becameVisit ||
                      (visit.valve.text() == m_draftValve && !m_visits.contains(visit.id.text()));
    }
    for (auto said = m_visits.begin(); said != m_visits.end(); ++said) {
        if (stored.value(said.key()) != said.value()) {
            missing << QStringLiteral("visit ") + said.key();
        }
    }
    QSet<QString> ids;
    for (const Notice &notice : project.shuts().notices().value_or(std::vector<Notice>{})) {
        ids.insert(notice.id.text());
    }
    for (const Photo &photo : project.photos().all().value_or(std::vector<Photo>{})) {
        ids.insert(photo.id.text()); // that its picture is whole is verify()'s to say
    }
    for (const QString &said : m_notices + m_photos) {
        if (!ids.contains(said)) {
            missing << QStringLiteral("notice or photo ") + said;
        }
    }
    if (!m_draftValve.isEmpty() && !becameVisit) {
        const auto drafts = project.visits().drafts().value_or(std::vector<StopDraft>{});
        const bool stands = std::ranges::any_of(drafts, [this](const StopDraft &draft) {
            return draft.valve.text() == m_draftValve &&
                   draft.content.value(QLatin1String("turns")).toInt() >= m_draftAt;
        });
        if (!stands) {
            missing << QStringLiteral("half-typed stop of valve %1 at %2")
                           .arg(m_draftValve)
                           .arg(m_draftAt);
        }
    }
    return missing;
}

} // namespace keyround
