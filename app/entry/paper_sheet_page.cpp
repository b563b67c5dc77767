// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/entry/paper_sheet_page.h"

#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/entry/sheet_row.h"
#include "app/shell/session.h"

#include <QApplication>
#include <QCloseEvent>
#include <QGridLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

namespace keyround {

namespace {

QString roundWords(const Round &round)
{
    return QObject::tr("%1, %2, stops: %3, %4")
        .arg(round.date.toString(Qt::ISODate), round.crew, QString::number(round.stops.size()),
             wordFor(round.state));
}

} // namespace

PaperSheetPage::PaperSheetPage(Session &session, const RoundId &round, QWidget *parent)
    : QWidget(parent), m_session(session), m_desk(session),
      m_keeper([this]() -> Status { return m_session.isOpen() ? m_desk.keep() : Status{}; }),
      m_rounds(new CalmComboBox(this)),
      m_date(new CheckedLine(
          tr("Day of the sheet"),
          [this](const QString &text) {
              Status set = m_desk.setDate(QDate::fromString(text.trimmed(), Qt::ISODate));
              if (set) {
                  m_keeper.changed();
                  showLines();
              }
              return set;
          },
          this)),
      m_kept(plainCaption({}, QStringLiteral("quiet"), this)), m_hint(plainLabel({}, {}, this)),
      m_record(new QPushButton(this)), m_drop(new QPushButton(tr("Drop what is typed"), this))
{
    setWindowTitle(tr("Type in a paper sheet"));
    setObjectName(QStringLiteral("paperSheet"));
    auto *column = new QVBoxLayout(this);
    column->setContentsMargins(16, 12, 16, 12);
    column->setSpacing(8);
    column->addWidget(buildHead());
    column->addWidget(buildGrid(), 1);
    column->addWidget(buildFoot());
    connect(&m_keeper, &DraftKeeper::stateChanged, this, &PaperSheetPage::refreshKept);
    connect(&m_keeper, &DraftKeeper::failed, this, [this](const QString &why) {
        Q_EMIT m_session.notifier().failed(tr("The paper sheet is not kept: %1").arg(why));
    });
    connect(qApp, &QApplication::focusChanged, this, &PaperSheetPage::focusMoved);
    const Notifier &notifier = session.notifier();
    connect(&notifier, &Notifier::projectAboutToChange, this, [this] { m_keeper.flush(); });
    connect(&notifier, &Notifier::projectChanged, this, [this] {
        m_keeper.reset(); // what could not be kept then is not the next project's
        close();
    });
    openRound(round);
}

PaperSheetPage::~PaperSheetPage()
{
    // Closing the window moves the focus once more, when this is a page no longer.
    qApp->disconnect(this);
    m_session.notifier().disconnect(this);
}

PaperSheetPage *PaperSheetPage::openBeside(QWidget *owner, Session &session, const RoundId &round)
{
    QWidget *window = owner->window();
    auto *page = window->findChild<PaperSheetPage *>();
    if (page == nullptr) {
        page = new PaperSheetPage(session, round, window);
        page->setWindowFlag(Qt::Window);
        page->setAttribute(Qt::WA_DeleteOnClose);
        page->resize(1280, 680);
    }
    page->show();
    page->raise();
    page->activateWindow();
    return page;
}

void PaperSheetPage::fillRounds(const RoundId &chosen)
{
    m_rounds->clear();
    m_rounds->addItem(tr("No round: valves by their numbers"), RoundId().text());
    for (const Round &round : m_session.rounds()) {
        if (round.date <= m_session.now().localDate()) {
            m_rounds->addItem(roundWords(round), round.id.text());
        }
    }
    m_rounds->setCurrentIndex(std::max(0, m_rounds->findData(chosen.text())));
}

void PaperSheetPage::openRound(const RoundId &round)
{
    fillRounds(round);
    const RoundId offered = RoundId::fromText(m_rounds->currentData().toString());
    if (const Status opened = m_desk.open(offered); !opened) {
        Q_EMIT m_session.notifier().failed(opened.error().message);
    }
    m_keeper.reset();
    m_date->reset(m_desk.date().toString(Qt::ISODate));
    m_wasLeft.assign(m_desk.lines().size(), false);
    for (std::size_t i = 0; i < m_desk.lines().size(); ++i) {
        m_wasLeft[i] = !m_desk.lines()[i].row.isUntouched(); // half-typed: what is wrong is said
    }
    showLines();
    goTo(0, std::nullopt);
}

void PaperSheetPage::addRows()
{
    QWidget *rows = m_scroll->widget();
    while (m_rows.size() < m_desk.lines().size()) {
        auto *row = new SheetRow(m_rows.size(), m_grid, rows);
        connect(row, &SheetRow::edited, this, &PaperSheetPage::edited);
        for (std::size_t i = 0; i < paperColumnCount; ++i) {
            row->edit(PaperColumn(i))->installEventFilter(this);
        }
        m_rows.push_back(row);
    }
    while (m_rows.size() > m_desk.lines().size()) { // another round's sheet is shorter
        const int last = int(m_rows.size()) - 1;
        for (int column = 0; column < m_grid->columnCount(); ++column) {
            if (QLayoutItem *item = m_grid->itemAtPosition(last, column)) {
                delete item->widget();
            }
        }
        delete m_rows.back();
        m_rows.pop_back();
    }
    m_wasLeft.resize(m_rows.size(), false);
}

void PaperSheetPage::showLines()
{
    addRows();
    for (std::size_t i = 0; i < m_rows.size(); ++i) {
        m_rows[i]->show(m_desk.lines()[i]);
        refreshRow(i, m_wasLeft[i]);
    }
    refreshHint();
    refreshKept();
}

void PaperSheetPage::edited(std::size_t row, PaperColumn column, const QString &text)
{
    m_desk.setText(row, column, text);
    m_keeper.changed();
    addRows();
    m_isSummed = false;
    m_dropAsked = false;
    refreshRow(row, m_wasLeft[row]);
    refreshHint();
}

void PaperSheetPage::refreshRow(std::size_t row, bool all)
{
    m_rows[row]->showChecked(m_desk.check(row), all);
}

SheetRow *PaperSheetPage::rowOf(const QObject *widget) const
{
    for (SheetRow *row : m_rows) {
        if (row->columnOf(widget)) {
            return row;
        }
    }
    return nullptr;
}

void PaperSheetPage::focusMoved(QWidget *before, QWidget *now)
{
    SheetRow *left = rowOf(before);
    SheetRow *entered = rowOf(now);
    if (left != nullptr && left != entered) {
        m_wasLeft[left->index()] =
            m_wasLeft[left->index()] || !m_desk.lines()[left->index()].row.isUntouched();
    }
    if (left != nullptr) {
        leave(left, *left->columnOf(before));
    }
    if (entered != nullptr) {
        m_scroll->ensureWidgetVisible(now, 0, 40);
        if (auto *edit = qobject_cast<QLineEdit *>(now)) {
            edit->selectAll();
        }
        refreshHint();
    }
}

void PaperSheetPage::leave(SheetRow *row, PaperColumn column)
{
    if (column == PaperColumn::Problems) { // what was begun is written out
        QLineEdit *edit = row->edit(column);
        const QString full = problemsInFull(edit->text(), m_desk.choices());
        if (full != edit->text()) {
            edit->setText(full);
            m_desk.setText(row->index(), column, full);
            m_keeper.changed();
        }
    }
    refreshRow(row->index(), m_wasLeft[row->index()]);
}

bool PaperSheetPage::eventFilter(QObject *watched, QEvent *event)
{
    if (event->type() == QEvent::KeyPress) {
        SheetRow *row = rowOf(watched);
        if (row != nullptr &&
            handleKey(row, *row->columnOf(watched), static_cast<QKeyEvent *>(event))) {
            return true;
        }
    }
    return QWidget::eventFilter(watched, event);
}

bool PaperSheetPage::handleKey(SheetRow *row, PaperColumn column, QKeyEvent *key)
{
    const bool isEnter = key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter;
    if (isEnter && key->modifiers().testFlag(Qt::ControlModifier)) {
        m_isSummed ? record() : sumUp();
        return true;
    }
    if (isEnter) {
        goTo(row->index() + 1, std::nullopt);
        return true;
    }
    if (key->key() == Qt::Key_Down) {
        goTo(row->index() + 1, column);
        return true;
    }
    if (key->key() == Qt::Key_Up && row->index() > 0) {
        goTo(row->index() - 1, column);
        return true;
    }
    if (key->key() == Qt::Key_Escape && m_isSummed) {
        m_isSummed = false;
        refreshHint();
        return true;
    }
    return false;
}

void PaperSheetPage::goTo(std::size_t row, std::optional<PaperColumn> column)
{
    while (row < m_rows.size() && !m_desk.lines()[row].recorded.isNull()) {
        ++row;
    }
    if (row < m_rows.size()) {
        (column ? m_rows[row]->edit(*column) : m_rows[row]->firstField())
            ->setFocus(Qt::TabFocusReason);
    }
}

void PaperSheetPage::sumUp()
{
    if (SheetRow *row = rowOf(QApplication::focusWidget())) {
        leave(row, *row->columnOf(QApplication::focusWidget()));
    }
    for (std::size_t i = 0; i < m_rows.size(); ++i) {
        m_wasLeft[i] = m_wasLeft[i] || !m_desk.lines()[i].row.isUntouched();
        refreshRow(i, m_wasLeft[i]);
    }
    m_isSummed = true;
    refreshHint();
}

void PaperSheetPage::record()
{
    int recorded = 0;
    QString failure;
    for (std::size_t i = 0; i < m_rows.size() && failure.isEmpty(); ++i) {
        if (m_desk.check(i).state != CheckedSheetLine::State::Sound) {
            continue;
        }
        if (const Status done = m_desk.record(i); !done) {
            failure = done.error().message;
        }
        if (!m_desk.lines()[i].recorded.isNull()) {
            ++recorded;
            m_rows[i]->show(m_desk.lines()[i]);
            refreshRow(i, true); // acknowledged: the visit is on disk
        }
    }
    m_isSummed = false;
    if (!failure.isEmpty()) {
        Q_EMIT m_session.notifier().failed(failure);
    }
    showLines();
    const SheetSummary left = m_desk.summary();
    m_hint->setText(
        failure.isEmpty()
            ? tr("Visits recorded, each on disk: %1. %2")
                  .arg(recorded)
                  .arg(left.refused == 0 ? tr("Nothing typed is left over.") : left.words())
            : tr("Visits recorded: %1; then it stopped: %2").arg(recorded).arg(failure));
    if (failure.isEmpty() && left.refused == 0) {
        m_keeper.reset();
    }
}

void PaperSheetPage::dropAll()
{
    if (!m_dropAsked) {
        m_dropAsked = true;
        refreshHint();
        return;
    }
    m_dropAsked = false;
    m_keeper.reset();
    if (const Status dropped = m_desk.drop(); !dropped) {
        Q_EMIT m_session.notifier().failed(dropped.error().message);
    }
    openRound(m_desk.round());
}

void PaperSheetPage::closeEvent(QCloseEvent *event)
{
    m_keeper.flush();
    if (m_keeper.state() == DraftKeeper::State::Failed) {
        event->ignore(); // "Drop what is typed" lets a person out
        return;
    }
    QWidget::closeEvent(event);
}

} // namespace keyround
