// SPDX-License-Identifier: GPL-3.0-or-later
// Notices for the dead end of the small town: who is told, what hangs on the doors, letters, the
// call list, the list as CSV and back, what is written down, and names and phones forgotten.
#include "app/commands/import_layer.h"
#include "app/commands/notice_commands.h"
#include "app/print/notice_files.h"
#include "app/shell/style.h"
#include "core/exchange/read_layer.h"
#include "core/storage/layer_store.h"
#include "tests/support/batch_run.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QFile>
#include <QJsonArray>
#include <QTest>

using namespace keyround;
using namespace keyround::tests;

namespace {

/// The three services behind G-DEAD get addresses and contacts; one is odd on purpose.
void nameServices(Session &session)
{
    std::vector<Service> services;
    int number = 0;
    for (const NoticeRecipient &each :
         noticeJobFor(session, session.valveByNumber(QStringLiteral("G-DEAD"))->id,
                      QDate(2026, 3, 20))
             .recipients) {
        for (const Service &service : session.services()) {
            if (service.number == each.service) {
                Service named = service;
                ++number;
                named.address = QStringLiteral("%1 Dead End Lane").arg(100 - number * 2);
                named.customer = number == 2 ? QStringLiteral("=Customer <b>2</b>, \"odd\"")
                                             : QStringLiteral("Customer %1").arg(number);
                named.phone = QStringLiteral("+1 555 010%1").arg(number);
                named.critical = number == 3;
                services.push_back(named);
            }
        }
    }
    if (!session.project().layers().put(services, QDate(2026, 3, 1))) {
        qFatal("services were not stored");
    }
    Q_EMIT session.notifier().layersChanged();
}

} // namespace

class TestNoticePaper : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void init();
    void whoIsTold();
    void doorHangersToCut();
    void aTextTooLongIsRefused();
    void letters();
    void theCallList();
    void theListComesBackUnchanged();
    void whatWasDelivered();
    void namesAndPhonesAreForgotten();
    void onTheConsole();

private:
    [[nodiscard]] NoticeJob job();
    [[nodiscard]] NoticePrint wordings(NoticeForm form, bool bothLanguages = false);
    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    QString m_file;
};

void TestNoticePaper::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

void TestNoticePaper::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_town = makeSmallTown(*m_session);
    addSmallTownNetwork(*m_session);
    nameServices(*m_session);
    ProjectSettings settings = m_session->settings();
    settings.utility = QStringLiteral("Invented Water Department");
    settings.noticeTemplates.contact = QStringLiteral("555-0100, weekdays");
    settings.noticeTemplates.senderAddress = QStringLiteral("1 Yard Road\nNowhere");
    QVERIFY(m_session->project().settings().save(settings));
    Q_EMIT m_session->notifier().settingsChanged();
    m_file = m_town->folder.filePath(QStringLiteral("notices.pdf"));
}

NoticeJob TestNoticePaper::job()
{
    return noticeJobFor(*m_session, m_session->valveByNumber(QStringLiteral("G-DEAD"))->id,
                        QDate(2026, 3, 20), NoticeWindow{QTime(9, 0), QTime(10, 30)});
}

NoticePrint TestNoticePaper::wordings(NoticeForm form, bool bothLanguages)
{
    NoticePrint print;
    for (const NoticeTemplate &each : m_session->settings().noticeTemplates.list) {
        if (each.form == form && (bothLanguages || print.wordings.empty())) {
            print.wordings.push_back(each);
        }
    }
    return print;
}

void TestNoticePaper::whoIsTold()
{
    const NoticeJob told = job();
    QCOMPARE(told.recipients.size(), std::size_t{3});
    // By street and house: 94, 96, 98.
    QCOMPARE(told.recipients.front().address, QStringLiteral("94 Dead End Lane"));
    QCOMPARE(told.recipients.back().address, QStringLiteral("98 Dead End Lane"));
    // Friday 20 March 9:00; two working days before it is Wednesday 9:00.
    QCOMPARE(told.latest, QDateTime(QDate(2026, 3, 18), QTime(9, 0)));
    const Valve *looped = m_session->valveByNumber(QStringLiteral("G-N21-S"));
    QVERIFY(noticeJobFor(*m_session, looped->id, QDate(2026, 3, 20)).recipients.empty());
}

void TestNoticePaper::doorHangersToCut()
{
    const Status written =
        writeNotices(*m_session, job(), wordings(NoticeForm::DoorHanger), m_file);
    QVERIFY2(written, qPrintable(written ? QString() : written.error().message));
    QCOMPARE(pdfPages(m_file), 1); // three to a page
    QCOMPARE(pdfPageSize(m_file), QStringLiteral("792 x 612 pts"));
    const QString text = pdfText(m_file);
    for (const char *address : {"94DeadEndLane", "96DeadEndLane", "98DeadEndLane"}) {
        QCOMPARE(text.count(QLatin1String(address)), 1);
    }
    QCOMPARE(text.count(QStringLiteral("Yourwaterwillbeoff")), 3);
    QCOMPARE(text.count(QStringLiteral("Friday,March20,2026")), 3);
    QCOMPARE(text.count(QStringLiteral("555-0100,weekdays")), 3);
    QVERIFY(!text.contains(QStringLiteral("Customer"))); // a neighbour may read what hangs there
    QCOMPARE(pdfWordsOutside(m_file), QStringList());
    // Both languages: six hangers, two pages.
    QVERIFY(writeNotices(*m_session, job(), wordings(NoticeForm::DoorHanger, true), m_file));
    QCOMPARE(pdfPages(m_file), 2);
    QVERIFY(pdfText(m_file).contains(QString::fromUtf8("viernes,20demarzode2026")));
    QFile::remove(screenFile(QStringLiteral("hangers-letter.pdf")));
    QVERIFY(QFile::copy(m_file, screenFile(QStringLiteral("hangers-letter.pdf"))));
}

void TestNoticePaper::aTextTooLongIsRefused()
{
    NoticePrint print = wordings(NoticeForm::DoorHanger);
    print.wordings.front().text += QStringLiteral(" and so on").repeated(600);
    const Status written = writeNotices(*m_session, job(), print, m_file);
    QVERIFY(!written);
    QVERIFY2(written.error().message.contains(QStringLiteral("too long")),
             qPrintable(written.error().message));
    QVERIFY(!QFile::exists(m_file));
    // Longer than the example, but not too long: smaller letters.
    print = wordings(NoticeForm::DoorHanger);
    print.wordings.front().text += QStringLiteral(" More words of it.").repeated(20);
    QVERIFY(writeNotices(*m_session, job(), print, m_file));
    QCOMPARE(pdfText(m_file).count(QStringLiteral("Morewordsofit.")), 60);
    QCOMPARE(pdfWordsOutside(m_file), QStringList());
}

void TestNoticePaper::letters()
{
    QVERIFY(writeNotices(*m_session, job(), wordings(NoticeForm::Letter), m_file));
    QCOMPARE(pdfPages(m_file), 3);
    QCOMPARE(pdfPageSize(m_file), QStringLiteral("612 x 792 pts"));
    const QString text = pdfText(m_file);
    QVERIFY(text.contains(QStringLiteral("=Customer<b>2</b>,\"odd\"96DeadEndLane")));
    QVERIFY(text.contains(QStringLiteral("InventedWaterDepartment1YardRoadNowhere")));
    QCOMPARE(pdfWordsOutside(m_file), QStringList());
    ProjectSettings metric = m_session->settings();
    metric.units = UnitSystem::Metric;
    metric.noticeTemplates.contact.clear();
    QVERIFY(m_session->project().settings().save(metric));
    Q_EMIT m_session->notifier().settingsChanged();
    const Status refused = writeNotices(*m_session, job(), wordings(NoticeForm::Letter), m_file);
    QVERIFY(!refused);
    QVERIFY(refused.error().message.contains(QStringLiteral("{contact}")));
    NoticePrint print = wordings(NoticeForm::Letter, true);
    print.contact = QStringLiteral("the front desk");
    QVERIFY(writeNotices(*m_session, job(), print, m_file));
    QCOMPARE(pdfPages(m_file), 6);
    QCOMPARE(pdfPageSize(m_file), QStringLiteral("595 x 842 pts")); // A4, upright
    QFile::remove(screenFile(QStringLiteral("letters-a4.pdf")));
    QVERIFY(QFile::copy(m_file, screenFile(QStringLiteral("letters-a4.pdf"))));
}

void TestNoticePaper::theCallList()
{
    const auto sheet = callSheet(*m_session, job(), wordings(NoticeForm::Call));
    QVERIFY(sheet);
    QCOMPARE(sheet->table.rows.size(), std::size_t{3});
    QCOMPARE(sheet->table.rows.front().at(5), QStringLiteral("yes")); // critical first
    QVERIFY(sheet->cautions.first().contains(QStringLiteral("regulator")));
    QVERIFY(writeNotices(*m_session, job(), wordings(NoticeForm::Call), m_file));
    const QString text = pdfText(m_file);
    QVERIFY(text.contains(QStringLiteral("+15550103Customer3")));
    QVERIFY(text.contains(QStringLiteral("ThisisInventedWaterDepartment.")));
    QVERIFY(!writeNotices(*m_session, job(), {}, m_file)); // no wording was chosen
    NoticePrint mixed = wordings(NoticeForm::Call);
    mixed.wordings.push_back(m_session->settings().noticeTemplates.list.front());
    QVERIFY(!writeNotices(*m_session, job(), mixed, m_file));
}

void TestNoticePaper::theListComesBackUnchanged()
{
    const QString path = m_town->folder.filePath(QStringLiteral("services.csv"));
    const NoticeJob told = job();
    QVERIFY(writeRecipientsCsv(told, path));
    QFile file(path);
    QVERIFY(file.open(QIODevice::ReadOnly));
    const QByteArray raw = file.readAll();
    QVERIFY2(raw.contains("'=Customer") && raw.contains("'+1 555"), raw.constData()); // no formula
    ReadRequest request;
    request.path = path;
    const auto columns = columnsFor(LayerKind::Services, request);
    QVERIFY(columns);
    request.columns = guessColumns(LayerKind::Services, *columns);
    const auto read = readServices(request, {});
    QVERIFY2(read, qPrintable(read ? QString() : read.error().message));
    QCOMPARE(read->rows.size(), told.recipients.size());
    // Brought in again, changed ones are of today.
    std::vector<Service> changed = read->rows;
    for (Service &service : changed) {
        service.phone += QLatin1Char('9');
    }
    NoticeJob again;
    for (const Service &service : changed) {
        again.recipients.push_back(
            {service.number, service.address, service.customer, service.phone, service.critical});
    }
    const QString other = m_town->folder.filePath(QStringLiteral("changed.csv"));
    QVERIFY(writeRecipientsCsv(again, other));
    ReadRequest second;
    second.path = other;
    const auto plan = prepareImport(*m_session, LayerKind::Services, second);
    QVERIFY2(plan, qPrintable(plan ? QString() : plan.error().message));
    QVERIFY(applyImport(*m_session, *plan));
    QCOMPARE(m_session->project().layers().contactAges()->back().since, m_session->today());
    for (std::size_t i = 0; i < told.recipients.size(); ++i) {
        const Service &service = read->rows[i];
        QVERIFY((NoticeRecipient{service.number, service.address, service.customer, service.phone,
                                 service.critical}) == told.recipients[i]);
    }
}

void TestNoticePaper::whatWasDelivered()
{
    const NoticeJob told = job();
    m_session->setPerson(QStringLiteral("M. Invented"));
    const NoticeGiven given{told.day, QStringLiteral("door hangers"), 2,
                            QStringLiteral("Door hanger, English")};
    QVERIFY(recordNotice(*m_session, told, given));
    const Notice &notice = m_session->notices().front();
    QCOMPARE(notice.services, 2);
    QCOMPARE(notice.affected, 3);
    QCOMPARE(notice.person, QStringLiteral("M. Invented"));
    QCOMPARE(notice.wording, QStringLiteral("Door hanger, English"));
    QVERIFY(notice.what.contains(QStringLiteral("G-DEAD")));
    for (const int wrong : {0, -1, 4}) {
        NoticeGiven no = given;
        no.told = wrong;
        QVERIFY(!recordNotice(*m_session, told, no));
    }
    QCOMPARE(m_session->notices().size(), std::size_t{1});
    const QString log = m_town->folder.filePath(QStringLiteral("given.csv"));
    QVERIFY(writeNoticeLog(*m_session, log));
    QFile file(log);
    QVERIFY(file.open(QIODevice::ReadOnly));
    const QByteArray written = file.readAll();
    QVERIFY2(written.contains("2026-03-16 06:45,G-DEAD,") &&
                 written.contains(",2026-03-20,2,3,door hangers,"),
             written.constData());
    QVERIFY(!written.contains("555")); // no phones, no names
}

void TestNoticePaper::namesAndPhonesAreForgotten()
{
    const auto preview = previewPurge(*m_session, QDate(2026, 3, 2));
    QVERIFY(preview);
    QCOMPARE(preview->services, 3);
    QCOMPARE(preview->kept, 0);
    QCOMPARE(previewPurge(*m_session, QDate(2026, 3, 1))->services, 0); // of that very day: kept
    QCOMPARE(job().recipients.front().customer, QStringLiteral("Customer 3")); // nothing changed
    const auto done = purgeContacts(*m_session, QDate(2026, 3, 2));
    QVERIFY(done);
    QVERIFY2(purgeWords(*done, true).contains(QStringLiteral("3 services")),
             qPrintable(purgeWords(*done, true)));
    for (const NoticeRecipient &each : job().recipients) {
        QVERIFY(each.customer.isEmpty() && each.phone.isEmpty() && !each.address.isEmpty());
    }
    QVERIFY(!m_session->undoStack().canUndo());
    QCOMPARE(m_session->project().layers().contactPurges()->size(), std::size_t{1});
}

void TestNoticePaper::onTheConsole()
{
    m_session->closeProject();
    const QString project = m_town->path;
    const auto run = [&](const QStringList &more) {
        return runBatch(QStringList{QStringLiteral("notices"), QStringLiteral("--project"), project,
                                    QStringLiteral("--valve"), QStringLiteral("G-DEAD"),
                                    QStringLiteral("--on"), QStringLiteral("2026-03-20"),
                                    QStringLiteral("--from"), QStringLiteral("9:00"),
                                    QStringLiteral("--to"), QStringLiteral("10:30")} +
                        more);
    };
    const BatchRun listed = run({QStringLiteral("--json"), QStringLiteral("-")});
    QVERIFY2(listed.exitCode == 0, qPrintable(listed.err));
    const QJsonObject first =
        listed.json().value(QLatin1String("jobs")).toArray().first().toObject();
    QCOMPARE(first.value(QLatin1String("services")).toArray().size(), 3);
    QCOMPARE(first.value(QLatin1String("critical")).toInt(), 1);
    const BatchRun printed =
        run({QStringLiteral("--template"), QStringLiteral("door hanger, english"),
             QStringLiteral("--out"), m_file, QStringLiteral("--given"),
             QStringLiteral("door hangers"), QStringLiteral("--told"), QStringLiteral("3")});
    QVERIFY2(printed.exitCode == 0, qPrintable(printed.err));
    QVERIFY(pdfText(m_file).contains(QStringLiteral("94DeadEndLane")));
    QVERIFY(printed.out.contains(QStringLiteral("3 of 3 services told")));
    QCOMPARE(run({QStringLiteral("--template"), QStringLiteral("postcard"), QStringLiteral("--out"),
                  m_file})
                 .exitCode,
             2);
    QCOMPARE(run({QStringLiteral("--given"), QStringLiteral("calls"), QStringLiteral("--told"),
                  QStringLiteral("9")})
                 .exitCode,
             1);
    const auto contacts = [&](const QStringList &more) {
        return runBatch(QStringList{QStringLiteral("contacts"), QStringLiteral("--project"),
                                    project, QStringLiteral("--json"), QStringLiteral("-"),
                                    QStringLiteral("--older-than"), QStringLiteral("1")} +
                        more);
    };
    QCOMPARE(contacts({}).json().value(QLatin1String("services")).toInt(), 3);
    const BatchRun purged = contacts({QStringLiteral("--purge")});
    QVERIFY2(purged.exitCode == 0, qPrintable(purged.err));
    QVERIFY(purged.json().value(QLatin1String("deleted")).toBool());
    QCOMPARE(contacts({}).json().value(QLatin1String("services")).toInt(), 0);
}

QTEST_MAIN(TestNoticePaper)
#include "test_notice_paper.moc"
