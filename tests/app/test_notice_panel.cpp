// SPDX-License-Identifier: GPL-3.0-or-later
// The notices' window and the page of wordings, by clicks and keys: from a round, from a valve's
// card, what is refused, what is written down, what is forgotten.
#include "app/dialogs/checked_line.h"
#include "app/dialogs/choose_file.h"
#include "app/dialogs/notice_editor.h"
#include "app/dialogs/notice_panel.h"
#include "app/dialogs/paper_preview.h"
#include "app/dialogs/settings_form.h"
#include "app/dialogs/settings_panel.h"
#include "app/dialogs/valve_card.h"
#include "app/shell/style.h"
#include "core/storage/layer_store.h"
#include "core/storage/round_store.h"
#include "tests/support/by_name.h"
#include "tests/support/checked_lines.h"
#include "tests/support/on_screen.h"
#include "tests/support/pdf_text.h"
#include "tests/support/test_town.h"

#include <QApplication>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QTest>

using namespace keyround;
using namespace keyround::tests;

class TestNoticePanel : public QObject
{
    Q_OBJECT
private Q_SLOTS:
    void initTestCase();
    void init();
    void aRoundsShutsAreTold();
    void tooLateIsSaid();
    void fromTheValvesCard();
    void nobodyToTell();
    void wordingsAreEdited();
    void contactsAreForgottenOnTheSecondPress();

private:
    std::unique_ptr<Session> m_session;
    std::unique_ptr<SmallTown> m_town;
    ValveId m_dead;
};

void TestNoticePanel::initTestCase()
{
    keepSettingsApart();
    applyLook(*qApp);
}

void TestNoticePanel::init()
{
    m_session = std::make_unique<Session>(smallTownClock());
    m_town = makeSmallTown(*m_session);
    addSmallTownNetwork(*m_session);
    m_dead = m_session->valveByNumber(QStringLiteral("G-DEAD"))->id;
    ProjectSettings settings = m_session->settings();
    settings.utility = QStringLiteral("Invented Water Department");
    settings.noticeTemplates.contact = QStringLiteral("555-0100");
    QVERIFY(m_session->project().settings().save(settings));
    std::vector<Service> services = m_session->services();
    int number = 0;
    for (Service &service : services) {
        service.address =
            QStringLiteral("%1 A Rather Long Invented Avenue North-West").arg(++number);
        service.customer = QStringLiteral("Customer %1").arg(number);
        service.phone = QStringLiteral("555-0123");
    }
    QVERIFY(m_session->project().layers().put(services, QDate(2024, 1, 1)));
    Q_EMIT m_session->notifier().settingsChanged();
    Q_EMIT m_session->notifier().layersChanged();
}

void TestNoticePanel::aRoundsShutsAreTold()
{
    Round round = emptyRound(m_session->settings(), QStringLiteral("Crew 1"), QDate(2026, 3, 20));
    round.id = RoundId{newUuid7(m_session->now().utcMilliseconds)};
    round.stops = {m_session->valveByNumber(m_town->neverVisited)->id, m_dead};
    QVERIFY(m_session->project().rounds().put(round));
    Q_EMIT m_session->notifier().roundsChanged();
    QWidget owner;
    owner.show();
    NoticePanel *panel = NoticePanel::openForRound(&owner, *m_session, round.id);
    QVERIFY(panel != nullptr);
    QApplication::setActiveWindow(panel);
    QVERIFY(QTest::qWaitForWindowExposed(panel));
    QVERIFY(panel->jobs()->rowCount() >= 1);
    int row = -1;
    for (int i = 0; i < panel->jobs()->rowCount(); ++i) {
        row = panel->jobs()->item(i, 0)->text().contains(QStringLiteral("G-DEAD")) ? i : row;
    }
    QVERIFY(row >= 0);
    panel->jobs()->selectRow(row);
    auto *people = panel->findChild<QTableWidget *>(QStringLiteral("noticePeople"));
    QCOMPARE(people->rowCount(), 3);
    auto *words = panel->findChild<QLabel *>(QStringLiteral("noticeWords"));
    QVERIFY2(words->text().contains(people->item(0, 0)->text()), qPrintable(words->text()));
    type(panel->line(QStringLiteral("noticeDay")), QStringLiteral("2026-03-24"));
    QVERIFY(words->text().contains(QStringLiteral("March 24, 2026")));
    type(panel->line(QStringLiteral("noticeTo")), QStringLiteral("3:00"));
    QVERIFY(panel->line(QStringLiteral("noticeTo"))->isRefused());
    QTest::keyClick(panel->line(QStringLiteral("noticeTo"))->line(), Qt::Key_Escape);
    type(panel->line(QStringLiteral("noticeFrom")), QStringLiteral("9:30")); // moves both ends
    QCOMPARE(panel->line(QStringLiteral("noticeTo"))->line()->text(), QStringLiteral("10:30"));
    type(panel->line(QStringLiteral("noticeFrom")), QStringLiteral("7:00"));
    type(panel->line(QStringLiteral("noticeTold")), QStringLiteral("1"));
    panel->jobs()->clearSelection();
    panel->jobs()->selectRow(row); // chosen anew: all of them, not what was typed of another
    QCOMPARE(panel->line(QStringLiteral("noticeTold"))->line()->text(), QStringLiteral("3"));
    type(panel->line(QStringLiteral("noticeWhy")), QStringLiteral("A new valve is put in."));
    QVERIFY(words->text().contains(QStringLiteral("A new valve is put in.")));
    for (const QSize &size : {QSize(1366, 768), QSize(1920, 1080)}) {
        panel->resize(size);
        QTest::qWait(20);
        QVERIFY(panel->grab().save(screenFile(QStringLiteral("notices-%1.png").arg(size.width()))));
    }
    click(panel, "noticeHangers");
    auto *preview = owner.window()->findChild<PaperPreview *>();
    preview = preview != nullptr ? preview : panel->findChild<PaperPreview *>();
    QVERIFY(preview != nullptr);
    QVERIFY(QTest::qWaitForWindowExposed(preview));
    QVERIFY(preview->grab().save(screenFile(QStringLiteral("preview-hangers.png"))));
    const QString saved = m_town->folder.filePath(QStringLiteral("hangers.pdf"));
    setNextFileForTest(saved);
    click(preview, "previewSave");
    QCOMPARE(pdfText(saved).count(QStringLiteral("Anewvalveisputin.")), 3);
    preview->close();
    type(panel->line(QStringLiteral("noticeTold")), QStringLiteral("5"));
    QVERIFY(panel->line(QStringLiteral("noticeTold"))->isRefused());
    type(panel->line(QStringLiteral("noticeTold")), QStringLiteral("2"));
    type(panel->line(QStringLiteral("noticeHow")), QStringLiteral("by hand"));
    click(panel, "noticeWrite");
    QCOMPARE(m_session->notices().size(), std::size_t{1});
    QCOMPARE(m_session->notices().front().services, 2);
    QCOMPARE(m_session->notices().front().how, QStringLiteral("by hand"));
    QCOMPARE(m_session->notices().front().forDay, QDate(2026, 3, 24));
    QVERIFY(panel->jobs()->item(row, 4)->text().contains(QStringLiteral("2 of 3")));
    const QString csv = m_town->folder.filePath(QStringLiteral("services.csv"));
    setNextFileForTest(csv);
    click(panel, "noticeCsv");
    QVERIFY(QFile::exists(csv));
}

void TestNoticePanel::tooLateIsSaid()
{
    NoticePanel panel(*m_session, {noticeJobFor(*m_session, m_dead, QDate(2026, 3, 17))});
    panel.show();
    auto *lead = panel.findChild<QLabel *>(QStringLiteral("noticeLead"));
    QVERIFY2(lead->text().contains(QStringLiteral("Too late")), qPrintable(lead->text()));
    type(panel.line(QStringLiteral("noticeDay")), QStringLiteral("2026-03-19"));
    QVERIFY2(lead->text().contains(QStringLiteral("Tell them by Tue 2026-03-17")),
             qPrintable(lead->text()));
}

void TestNoticePanel::fromTheValvesCard()
{
    ValveCard card(*m_session);
    card.resize(360, 720);
    card.show();
    card.showValve(m_dead);
    click(&card, "cardNotices");
    auto *panel = card.findChild<NoticePanel *>();
    QVERIFY(panel != nullptr);
    QCOMPARE(panel->jobs()->rowCount(), 1);
    // The first day for which notice is early enough.
    QCOMPARE(panel->line(QStringLiteral("noticeDay"))->stored(), QStringLiteral("2026-03-18"));
    card.showValve(m_session->valveByNumber(QStringLiteral("G-N21-S"))->id);
    QVERIFY(card.findChild<QPushButton *>(QStringLiteral("cardNotices"))->isHidden());
}

void TestNoticePanel::nobodyToTell()
{
    NoticePanel panel(*m_session, {});
    panel.resize(1000, 640);
    panel.show();
    auto *lead = panel.findChild<QLabel *>(QStringLiteral("noticeLead"));
    QVERIFY2(lead->text().contains(QStringLiteral("Nobody loses water")), qPrintable(lead->text()));
    QVERIFY(!panel.findChild<QPushButton *>(QStringLiteral("noticeHangers"))->isEnabled());
    QVERIFY(panel.grab().save(screenFile(QStringLiteral("notices-empty.png"))));
}

void TestNoticePanel::wordingsAreEdited()
{
    SettingsPanel settings(*m_session);
    settings.resize(1366, 768);
    settings.show();
    QApplication::setActiveWindow(&settings);
    QVERIFY(QTest::qWaitForWindowExposed(&settings));
    settings.showPage(SettingsPanel::NoticesPage);
    auto *editor = settings.findChild<NoticeEditor *>();
    QCOMPARE(editor->list()->count(), 6);
    editor->list()->setCurrentRow(0);
    QTest::qWait(20);
    QVERIFY(settings.grab().save(screenFile(QStringLiteral("settings-notices.png"))));
    auto *refusal = editor->findChild<QLabel *>(QStringLiteral("wording-refusal"));
    auto *example = editor->findChild<QLabel *>(QStringLiteral("wording-example"));
    const auto typeText = [&](const QString &text) {
        editor->text()->setFocus();
        editor->text()->selectAll();
        QTest::keyClicks(editor->text(), text);
        editor->list()->setFocus();
    };
    typeText(QStringLiteral("No water on {day}."));
    QVERIFY2(refusal->text().contains(QStringLiteral("{day}")), qPrintable(refusal->text()));
    QVERIFY(!refusal->isHidden());
    QCOMPARE(editor->text()->toPlainText(), QStringLiteral("No water on {day}.")); // for mending
    QVERIFY(
        !m_session->settings().noticeTemplates.list.front().text.contains(QStringLiteral("{day}")));
    QVERIFY(settings.grab().save(screenFile(QStringLiteral("settings-notices-refused.png"))));
    typeText(QStringLiteral("No water on {date}."));
    QVERIFY(refusal->isHidden());
    QCOMPARE(m_session->settings().noticeTemplates.list.front().text,
             QStringLiteral("No water on {date}."));
    QVERIFY2(example->text().contains(QStringLiteral("March 17, 2026")),
             qPrintable(example->text()));
    m_session->undoStack().undo();
    QVERIFY(m_session->settings().noticeTemplates == [] {
        NoticeTemplates templates;
        templates.contact = QStringLiteral("555-0100");
        return templates;
    }());
    click(editor, "wording-add");
    QCOMPARE(m_session->settings().noticeTemplates.list.size(), std::size_t{7});
    type(editor->findChild<CheckedLine *>(QStringLiteral("wording-name")),
         QStringLiteral("Letter, English")); // there is one
    QVERIFY(editor->findChild<CheckedLine *>(QStringLiteral("wording-name"))->isRefused());
    click(editor, "wording-remove");
    QCOMPARE(m_session->settings().noticeTemplates.list.size(), std::size_t{6});
}

void TestNoticePanel::contactsAreForgottenOnTheSecondPress()
{
    SettingsPanel settings(*m_session);
    settings.resize(1366, 768);
    settings.show();
    settings.showPage(SettingsPanel::NoticesPage);
    auto *words = settings.findChild<QLabel *>(QStringLiteral("purge-words"));
    QVERIFY2(words->text().contains(QStringLiteral("would be deleted")), qPrintable(words->text()));
    click(&settings, "purge");
    QVERIFY(!m_session->services().front().phone.isEmpty()); // asked first
    click(&settings, "purge");
    for (const Service &service : m_session->services()) {
        QVERIFY(service.phone.isEmpty() && service.customer.isEmpty());
    }
    QVERIFY(!settings.findChild<QPushButton *>(QStringLiteral("purge"))->isEnabled());
}

QTEST_MAIN(TestNoticePanel)
#include "test_notice_panel.moc"
