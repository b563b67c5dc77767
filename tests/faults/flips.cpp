// SPDX-License-Identifier: GPL-3.0-or-later
// One bit of a project file is flipped, again and again, anywhere in it. After each flip either the
// program notices (on opening, or when it reads everything), or every record reads back as it was.
// A record is what was made in the field: visits, edits, half-typed stops, the log with its
// notices and photos. Values of the inventory carry no hash; how many of them changed unnoticed is
// told apart. The file that was noticed is then recovered: what comes back must be as it was.
#include "core/storage/photo_store.h"
#include "core/storage/recover.h"
#include "core/storage/shut_store.h"
#include "core/storage/visit_store.h"
#include "tests/core/storage/fixtures.h"
#include "tests/faults/faults.h"
#include "tests/faults/scripted_day.h"

#include <QDir>
#include <QRandomGenerator>
#include <QTemporaryDir>

#include <algorithm>
#include <cstdio>
#include <map>

namespace keyround {

namespace {

/// Every record by its id, as text that differs when anything in it does.
using Records = std::map<QString, QString>;

struct Content
{
    Records records;
    std::vector<Valve> valves;
};

Content contentOf(Project &project)
{
    Content content;
    content.valves = project.valves().all().value_or(std::vector<Valve>{});
    for (const Visit &visit : project.visits().all().value_or(std::vector<Visit>{})) {
        content.records[visit.id.text()] = contentHash(visit);
    }
    for (const StopDraft &draft : project.visits().drafts().value_or(std::vector<StopDraft>{})) {
        content.records[QStringLiteral("draft ") + draft.valve.text()] =
            draft.round.text() + draft.savedAt.iso() +
            QString::number(draft.content.value(QLatin1String("turns")).toInt());
    }
    for (const Notice &notice : project.shuts().notices().value_or(std::vector<Notice>{})) {
        content.records[notice.id.text()] = notice.valve.text() + notice.given.iso() + notice.how +
                                            QString::number(notice.services) +
                                            notice.forDay.toString(Qt::ISODate);
    }
    for (const Photo &photo : project.photos().all().value_or(std::vector<Photo>{})) {
        content.records[photo.id.text()] = photo.sha256 + photo.owner.valve.text() + photo.fileName;
        if (!photo.owner.visit.isNull()) { // a row of its own
            content.records[QStringLiteral("visit of ") + photo.id.text()] =
                photo.owner.visit.text();
        }
    }
    for (const Valve &valve : content.valves) {
        for (const ValveEdit &edit :
             project.valves().edits(valve.id).value_or(std::vector<ValveEdit>{})) {
            content.records[edit.id.text()] =
                edit.valve.text() + edit.before + edit.after + edit.why + edit.when.iso();
        }
    }
    return content;
}

struct Counts
{
    int onOpening = 0;
    int onReading = 0;
    int harmless = 0;
    int inventory = 0;
    int silent = 0;
    int recovered = 0;
    int badRecoveries = 0;
    qsizetype recordsBack = 0;
    qsizetype recordsLost = 0;
};

void tryRecovery(const QString &path, const QString &target, const Content &sound, Counts &counts)
{
    QFile::remove(target);
    const auto report = recoverProject(path, target);
    const auto project = report ? Project::open(target) : tl::unexpected(report.error());
    if (!project) {
        std::printf("  BROKEN: not recovered: %s\n", qPrintable(project.error().message));
        ++counts.badRecoveries;
        return;
    }
    ++counts.recovered;
    const Content content = contentOf(**project);
    for (const auto &[id, text] : sound.records) {
        const auto found = content.records.find(id);
        if (found == content.records.end()) {
            ++counts.recordsLost;
        } else if (found->second == text) {
            ++counts.recordsBack;
        } else {
            std::printf("  BROKEN: %s came back changed\n", qPrintable(id));
            ++counts.badRecoveries;
        }
    }
    const bool lost = content.records.size() < sound.records.size();
    if (lost && report->isWhole()) {
        std::printf("  BROKEN: rows were lost and the recovery did not say so\n");
        ++counts.badRecoveries;
    }
}

/// True when the program noticed.
bool tryFlip(const QString &path, const Content &sound, Counts &counts)
{
    const auto project = Project::open(path);
    if (!project) {
        ++counts.onOpening;
        return true;
    }
    const auto faults = (*project)->verify();
    if (!faults || !faults->isEmpty()) {
        ++counts.onReading;
        return true;
    }
    const Content content = contentOf(**project);
    if (content.records != sound.records) {
        std::printf("  BROKEN: a record changed and nobody noticed\n");
        ++counts.silent;
    } else if (content.valves != sound.valves) {
        ++counts.inventory;
    } else {
        ++counts.harmless;
    }
    return false;
}

bool makeSoundFile(const QString &path)
{
    Ledger said;
    if (!makeDayProject(path) ||
        !runWholeDay(said, {path, QStringLiteral("--stops"), QStringLiteral("60")})) {
        return false;
    }
    const auto project = Project::open(path);
    if (!project) {
        return false;
    }
    const std::vector<Valve> valves = (*project)->valves().all().value_or(std::vector<Valve>{});
    for (std::size_t i = 0; i < 5; ++i) { // stops that are half-typed
        const StopDraft draft{RoundId{newUuid7(1)},
                              valves[i].id,
                              {{QStringLiteral("turns"), static_cast<int>(40 + i)}},
                              fixtures::moment()};
        if (!(*project)->visits().saveDraft(draft)) {
            return false;
        }
    }
    return true;
}

} // namespace

int runFlips(int count)
{
    constexpr int recoverEach = 4;
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("town.keyround"));
    if (!makeSoundFile(path)) {
        return count;
    }
    const QByteArray bytes = fixtures::bytesOf(path);
    Content sound;
    {
        const auto project = Project::open(path);
        sound = contentOf(**project);
    }
    Counts counts;
    for (int flip = 0; flip < count; ++flip) {
        const qsizetype bit = QRandomGenerator::global()->bounded(bytes.size() * 8);
        QByteArray flipped = bytes;
        flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << (bit % 8)));
        if (!fixtures::writeBytes(path, flipped)) {
            return count;
        }
        const bool noticed = tryFlip(path, sound, counts);
        if (noticed && flip % recoverEach == 0) {
            fixtures::writeBytes(path, flipped); // as it was found
            tryRecovery(path, folder.filePath(QStringLiteral("recovered.keyround")), sound, counts);
        }
    }
    std::printf("bit flips: %d in a file of %lld bytes with %zu records: %d noticed on opening, %d "
                "on reading everything, %d harmless (every record as it was), %d changed a value "
                "of the inventory unnoticed, %d changed a record unnoticed\n",
                count, static_cast<long long>(bytes.size()), sound.records.size(), counts.onOpening,
                counts.onReading, counts.harmless, counts.inventory, counts.silent);
    std::printf("recovery: %d of the damaged files, %lld records came back as they were, %lld were "
                "lost and said so, %d recoveries broke a promise\n",
                counts.recovered, static_cast<long long>(counts.recordsBack),
                static_cast<long long>(counts.recordsLost), counts.badRecoveries);
    return counts.silent + counts.badRecoveries;
}

} // namespace keyround
